import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { createServer, type ViteDevServer } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { PHONE, startChromium } from './maker.ts';

const browser = startChromium();
let server: ViteDevServer;
beforeAll(async () => {
  const configFile = fileURLToPath(new URL('../../vite.config.ts', import.meta.url));
  server = await createServer({ configFile, logLevel: 'error', server: { port: 0 } });
  await server.listen();
});
afterAll(() => server.close());

const LOOKS = [
  ['light', 'en'],
  ['light', 'de'],
  ['dark', 'en'],
  ['dark', 'de'],
] as const;

test.each(LOOKS)('every part is drawn, fits a phone and has no barriers, %s, %s', async (look, language) => {
  const context = await browser().newContext({ viewport: PHONE, reducedMotion: 'reduce' });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', ({ message }) => errors.push(message));
  await page.goto(`${server.resolvedUrls?.local[0]}ui`);
  await page.getByLabel(look).check();
  await page.getByLabel(language, { exact: true }).check();
  await page.locator(`html[lang=${language}][data-theme=${look}]`).waitFor();

  for (const part of await page.locator('[data-part]').all()) {
    const { width, height } = (await part.boundingBox()) ?? { width: 0, height: 0 };
    expect([width > 100, height > 40], (await part.getAttribute('data-part')) ?? '').toEqual([true, true]);
  }
  const tooWide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(tooWide).toBeLessThanOrEqual(0);
  expect((await new AxeBuilder({ page }).analyze()).violations.map(({ id }) => id)).toEqual([]);
  expect(errors).toEqual([]);
  await context.close();
});

test('the keyboard stays in an open sheet, Escape closes it and goes back to where it was', async () => {
  const context = await browser().newContext({ viewport: PHONE });
  const page = await context.newPage();
  await page.goto(`${server.resolvedUrls?.local[0]}ui`);
  const opener = page.locator('[data-part="A sheet"] button').first();
  await opener.click();
  const inside = () => page.evaluate(() => document.activeElement?.closest('dialog') !== null);
  for (let k = 0; k < 4; k += 1) {
    expect(await inside()).toBe(true);
    await page.keyboard.press('Tab');
    if (await page.evaluate(() => document.activeElement === document.body)) await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Escape');
  await page.locator('dialog').waitFor({ state: 'detached' });
  expect(await opener.evaluate((element) => element === document.activeElement)).toBe(true);
  await context.close();
});

test('the gallery is not part of the built page', async () => {
  const { readdirSync, readFileSync } = await import('node:fs');
  const { outDir } = await import('./serve-page.ts');
  const files = readdirSync(outDir, { recursive: true, encoding: 'utf8' });
  expect(files.filter((name) => name === 'ui.html')).toEqual([]);
  const shipsIt = (name: string) => readFileSync(`${outDir}/${name}`, 'utf8').includes('The parts of our pages');
  expect(files.filter((name) => name.endsWith('.js')).filter(shipsIt)).toEqual([]);
});
