import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { ensureChromium } from '../support/ensure-chromium.mjs';

const FIREFOX = '/usr/bin/firefox-esr';
const WEBKIT_DRIVER = '/usr/bin/WebKitWebDriver';
const LIBRARIES = '/usr/lib';

/** Where the engines are; null for one that is not here and cannot be installed. */
export interface InstalledEngines {
  readonly chromium: string | null;
  readonly firefox: string | null;
  /** WebKitGTK's own small browser, and the program that drives it. */
  readonly webkit: { readonly driver: string; readonly browser: string } | null;
}

/** Finds the engines; on a Debian where we may, installs what is missing. */
export function ensureEngines(): InstalledEngines {
  const missing = [
    ...(existsSync(FIREFOX) ? [] : ['firefox-esr']),
    ...(existsSync(WEBKIT_DRIVER) ? [] : ['webkit2gtk-driver']),
    ...(existsSync('/usr/bin/xvfb-run') ? [] : ['xvfb']),
    ...(existsSync('/usr/bin/xauth') ? [] : ['xauth']),
    ...(existsSync('/usr/bin/dbus-run-session') ? [] : ['dbus']),
  ];
  if (missing.length > 0 && process.getuid?.() === 0) install(missing);
  const miniBrowser = findMiniBrowser();
  return {
    chromium: ensureChromium(),
    firefox: existsSync(FIREFOX) ? FIREFOX : null,
    webkit: existsSync(WEBKIT_DRIVER) && miniBrowser ? { driver: WEBKIT_DRIVER, browser: miniBrowser } : null,
  };
}

function install(packages: readonly string[]): void {
  const quiet = { stdio: 'ignore', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } } as const;
  try {
    execFileSync('apt-get', ['update', '-qq'], quiet);
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], quiet);
  } catch {
    // Not Debian, no network or no rights: the tests of the engine that is missing say so.
  }
}

/** Debian keeps it in a folder named for machine and version: /usr/lib/MACHINE/webkit2gtk-VERSION/MiniBrowser. */
function findMiniBrowser(): string | undefined {
  const foldersIn = (parent: string) =>
    readdirSync(parent, { withFileTypes: true }).flatMap((entry) =>
      entry.isDirectory() ? [`${parent}/${entry.name}`] : [],
    );
  return foldersIn(LIBRARIES)
    .flatMap(foldersIn)
    .filter((folder) => /\/webkit2gtk-[\d.]+$/.test(folder))
    .map((folder) => `${folder}/MiniBrowser`)
    .find(existsSync);
}
