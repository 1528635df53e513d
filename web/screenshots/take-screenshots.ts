import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { chromium, type Page } from 'playwright-core';
import { preview } from 'vite';
import { findChromium } from '../../tests/support/ensure-chromium.mjs';

/** `npm run screenshots`: the README's pictures, taken from the built page in a real Chromium. */
const here = fileURLToPath(new URL('./', import.meta.url));
const root = fileURLToPath(new URL('../../', import.meta.url));
const PHOTO = `${root}sample-images/tumbler-standing-on-dark-desk.jpg`;
const PHONE = { width: 390, height: 844 };
const LAPTOP = { width: 1280, height: 800 };

interface Shot {
  readonly name: string;
  readonly viewport: { readonly width: number; readonly height: number };
  readonly colorScheme: 'light' | 'dark';
  readonly step: 'check' | 'sizes' | 'plan';
}

const SHOTS: readonly Shot[] = [
  { name: 'phone-light-check', viewport: PHONE, colorScheme: 'light', step: 'check' },
  { name: 'phone-light-sizes', viewport: PHONE, colorScheme: 'light', step: 'sizes' },
  { name: 'phone-dark-plan', viewport: PHONE, colorScheme: 'dark', step: 'plan' },
  { name: 'laptop-light-plan', viewport: LAPTOP, colorScheme: 'light', step: 'plan' },
];

const executablePath = findChromium();
if (!executablePath) throw new Error('No Chromium found: install it, or set CHROMIUM_PATH to one.');
execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'error'], { cwd: root });
const server = await preview({ configFile: `${root}vite.config.ts`, logLevel: 'error', preview: { port: 0 } });
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-background-networking'] });
for (const { name, step, ...look } of SHOTS) {
  const context = await browser.newContext({ ...look, locale: 'en-GB', reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(`${server.resolvedUrls?.local[0]}#photo`);
  await page.getByTestId('photo-file').setInputFiles(PHOTO);
  await goOn(page, step);
  await page.screenshot({ path: `${here}${name}.png` });
  await context.close();
  process.stdout.write(`${name}.png\n`);
}
await browser.close();
await server.close();

async function goOn(page: Page, step: Shot['step']): Promise<void> {
  await page.locator('.check__sizes').waitFor({ timeout: 60_000 });
  await page.locator('.check__busy').waitFor({ state: 'detached', timeout: 60_000 });
  if (step === 'check') return;
  await page.getByRole('button', { name: 'On to the sizes' }).click();
  await page.getByRole('img', { name: /widest/i }).waitFor();
  if (step === 'sizes') return;
  await page.getByRole('button', { name: 'On to gauge and yarn' }).click();
  await page.getByRole('button', { name: 'On to the plan' }).click();
  await page
    .getByText(/round 1/i)
    .first()
    .waitFor({ timeout: 60_000 });
}
