import { type Browser, chromium } from 'playwright-core';
import { findChromium } from './ensure-chromium.mjs';

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
  const executablePath = findChromium();
  if (!executablePath) throw new Error('No Chromium found: install it, or set CHROMIUM_PATH to one.');
  return chromium.launch({ executablePath, args: [...QUIET, `--blink-settings=defaultFontSize=${textPx}`] });
}
