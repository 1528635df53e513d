import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser'];
export const NO_CHROMIUM =
  'No Chromium found: install it (Debian: apt-get install chromium) or set CHROMIUM_PATH to one.';

/** Path of a Chromium to test with: CHROMIUM_PATH, or one installed, or null. */
export function findChromium() {
  const given = process.env.CHROMIUM_PATH;
  if (given) return existsSync(given) ? given : null;
  return PLACES.find((place) => existsSync(place)) ?? null;
}

function installChromium() {
  try {
    const quiet = { stdio: 'ignore', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
    execFileSync('apt-get', ['update', '-qq'], quiet);
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], quiet);
  } catch {
    // Not Debian, no network or no rights: the tests that need it say what to do.
  }
}

/** Path of a Chromium to test with, installed if need be; null when there is none and none can be installed. */
export function ensureChromium() {
  if (!findChromium() && !process.env.CHROMIUM_PATH && process.getuid?.() === 0) installChromium();
  return findChromium();
}
