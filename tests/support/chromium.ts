import { type Browser, type BrowserContext, type BrowserServer, chromium } from 'playwright-core';
import { findChromium, NO_CHROMIUM } from './ensure-chromium.mjs';

export const PHONE = { width: 390, height: 844 };

/** Keeps Chromium from looking for its maker's hosts and from anything but showing our page. */
const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * A real, headless Chromium: CHROMIUM_PATH, or the one installed.
 * @param textPx  the browser's own text size, as somebody sets it who needs large print; 16 as it comes
 */
export function launchChromium(textPx = 16): Promise<Browser> {
  const args = [...QUIET, `--blink-settings=defaultFontSize=${textPx}`];
  return chromium.launch({ executablePath: installedChromium(), args });
}

/**
 * The same with a camera that shows a clip over and over.
 * @param clipPath  MJPEG file; null for a camera that nobody may use
 */
export function launchChromiumWithCamera(clipPath: string | null): Promise<Browser> {
  const camera = clipPath ? [`--use-file-for-fake-video-capture=${clipPath}`] : [];
  const args = [...QUIET, '--use-fake-device-for-media-stream', ...camera];
  return chromium.launch({ executablePath: installedChromium(), args });
}

/** The same, for several processes to connect to; each gets contexts of its own. */
export function serveChromium(): Promise<BrowserServer> {
  return chromium.launchServer({ executablePath: installedChromium(), args: QUIET });
}

/** The same, keeping what pages store in a folder, so that it can be closed and opened again. */
export function launchKeepingChromium(profileFolder: string): Promise<BrowserContext> {
  const options = { executablePath: installedChromium(), args: QUIET, locale: 'en-GB', viewport: PHONE };
  return chromium.launchPersistentContext(profileFolder, options);
}

function installedChromium(): string {
  const executablePath = findChromium();
  if (!executablePath) throw new Error(NO_CHROMIUM);
  return executablePath;
}
