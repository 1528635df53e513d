import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import sharp from 'sharp';
import { preview } from 'vite';
import { findChromium } from '../../tests/support/ensure-chromium.mjs';
import { PLACES } from '../app/app-state.ts';

/**
 * `npm run screenshots`: the README's pictures, and a contact sheet of every screen and state in dist/screens (phone and
 * laptop, light and dark, English and German), taken from the built page in a real Chromium. `-- readme` or
 * `-- sheet` takes one of the two; `-- sheet URL` looks at a page that is served already.
 */
const here = fileURLToPath(new URL('./', import.meta.url));
const root = fileURLToPath(new URL('../../', import.meta.url));
const sheetDir = `${root}dist/screens/`;
const sample = (name: string) => `${root}sample-images/${name}.jpg`;
const GOOD = sample('tumbler-standing-on-dark-desk');
const DOUBTFUL = sample('hard/sport-bottle-standing-on-planks');
const REFUSED = sample('work/cotton-swatch');
const PHONE = { width: 390, height: 844 };
const LAPTOP = { width: 1280, height: 800 };
const LANGUAGES = ['en-GB', 'de-DE'];
/** Draws in 3-D also where there is no graphics card. */
const ARGS = [
  '--no-sandbox',
  '--disable-background-networking',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];
const LONG_MS = 180_000;
/** What is drawn in 3-D does not say when it is done. */
const DRAWN_BY_MS = 8_000;

async function servePage() {
  execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'error'], { cwd: root });
  const server = await preview({ configFile: `${root}vite.config.ts`, logLevel: 'error', preview: { port: 0 } });
  return { url: server.resolvedUrls?.local[0] ?? '', close: () => server.close() };
}

/** Every screen and state, in the order of a visit: what is done to get there, found by place so that any language will do. */
const STATES: readonly (readonly [name: string, act: (page: Page) => Promise<void>])[] = [
  ['photo', async () => {}],
  ['menu', (page) => page.locator('.shell__menu').click()],
  ['stall, nothing there', (page) => visit(page, 'stall')],
  ['kept, nothing there', (page) => visit(page, 'kept')],
  ['guide', (page) => visit(page, 'guide')],
  ['settings', (page) => visit(page, 'settings')],
  ['ruler', (page) => goTo(page, 'ruler')],
  ['tape', (page) => goTo(page, 'tape')],
  ['not a photo', (page) => choose(page, fileURLToPath(import.meta.url), '.photo-step [role=alert]')],
  ['refused', (page) => choose(page, REFUSED, '.chip--doubt')],
  ['in doubt', (page) => choose(page, DOUBTFUL, '.chip--doubt')],
  ['sizes', (page) => choose(page, GOOD, '.numbers')],
  ['sizes, unfolded', unfold],
  ['changed meanwhile in another tab', nameWhatAnotherTabChanged],
  ['plan', (page) => goTo(page, 'plan')],
  ['yarn', (page) => goTo(page, 'gauge')],
  ['yarn, unfolded', unfold],
  ['stall, with a container', (page) => goTo(page, 'stall')],
  ['kept', (page) => goTo(page, 'kept')],
  ['kept, one deleted', deleteOne],
  ['kept, a file brought in', bringInDamaged],
];

async function writeSheet(chromium: Browser, locale: string): Promise<void> {
  mkdirSync(sheetDir, { recursive: true });
  const context = await chromium.newContext({ viewport: PHONE, locale, reducedMotion: 'reduce' });
  const page = await context.newPage();
  page.setDefaultTimeout(LONG_MS);
  await page.goto(`${url}#photo`);
  await page.locator('main h1').first().waitFor();
  const rows: { readonly name: string; readonly shots: readonly Buffer[] }[] = [];
  for (const [name, act] of STATES) {
    await act(page);
    const shots: Buffer[] = [];
    for (const viewport of [PHONE, LAPTOP]) {
      await page.setViewportSize(viewport);
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme });
        await page.evaluate(() => document.fonts.ready.then(() => new Promise(requestAnimationFrame)));
        shots.push(await page.screenshot());
      }
    }
    await page.setViewportSize(PHONE);
    rows.push({ name, shots });
    process.stdout.write(`${locale}: ${name}\n`);
  }
  await context.close();
  for (let k = 0; k < rows.length; k += ROWS_A_SHEET) {
    await sharp(await sheet(rows.slice(k, k + ROWS_A_SHEET))).toFile(
      `${sheetDir}${locale}-${k / ROWS_A_SHEET + 1}.png`,
    );
  }
}

const ROWS_A_SHEET = 3;
const ROW_PX = 560;
const GAP_PX = 12;

/** A row for every state, named above it. */
async function sheet(rows: readonly { readonly name: string; readonly shots: readonly Buffer[] }[]): Promise<Buffer> {
  const tiles: { input: Buffer; left: number; top: number }[] = [];
  let widest = 0;
  for (const [row, { name, shots }] of rows.entries()) {
    const top = row * (ROW_PX + 40);
    let left = GAP_PX;
    const label = `<svg width="800" height="36"><text x="0" y="26" font-size="22" font-family="sans-serif">${name}</text></svg>`;
    tiles.push({ input: Buffer.from(label), left, top });
    for (const shot of shots) {
      const { data, info } = await sharp(shot).resize({ height: ROW_PX }).toBuffer({ resolveWithObject: true });
      tiles.push({ input: data, left, top: top + 36 });
      left += info.width + GAP_PX;
    }
    widest = Math.max(widest, left);
  }
  const height = rows.length * (ROW_PX + 40);
  return sharp({ create: { width: widest, height, channels: 3, background: '#ffffff' } })
    .composite(tiles)
    .png()
    .toBuffer();
}

async function visit(page: Page, place: (typeof PLACES)[number]): Promise<void> {
  if (!(await page.locator('dialog').count())) await page.locator('.shell__menu').click();
  await page
    .locator('.shell__places button')
    .nth(PLACES.indexOf(place) + 1)
    .click();
  await page.locator('main h1').first().waitFor();
}

/** As if its address had been typed. */
async function goTo(page: Page, screen: string): Promise<void> {
  await page.evaluate((hash) => {
    history.pushState({ inside: true }, '', hash);
    window.dispatchEvent(new PopStateEvent('popstate'));
  }, `#${screen}`);
  await page.locator('main h1').first().waitFor();
  if (['tape', 'gauge'].includes(screen)) await page.locator('dialog h2').waitFor();
}

async function choose(page: Page, file: string, until: string): Promise<void> {
  await goTo(page, 'photo');
  // as just taken: a photo out of files is asked whose it is
  await page.locator('input[capture]').setInputFiles(file);
  await page.locator(until).first().waitFor();
  await page.locator('.check__busy').waitFor({ state: 'detached' });
}

/** As another tab would leave it that had no chance to say so. */
async function nameWhatAnotherTabChanged(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const request = indexedDB.open('roundwise');
    await new Promise((resolve) => request.addEventListener('success', resolve));
    const transaction = request.result.transaction('container', 'readwrite');
    const containers = transaction.objectStore('container');
    const all = containers.getAll();
    all.addEventListener('success', () => {
      for (const each of all.result) containers.put({ ...each, label: 'Harbour', revision: each.revision + 1 });
    });
    await new Promise((resolve) => transaction.addEventListener('complete', resolve));
    request.result.close();
  });
  await page.locator('.fold input[type=text][maxlength]').first().fill('Market');
  await page.locator('[role=status] .note').first().waitFor();
}

async function deleteOne(page: Page): Promise<void> {
  await page.locator('.kept__one .button--icon').first().click();
  await page.locator('.kept__one .button--danger').click();
  await page.locator('[role=status] .note').first().waitFor();
}

/** One entry is sound, one is not. */
async function bringInDamaged(page: Page): Promise<void> {
  const sound = {
    id: 'screenshot-0001',
    kind: 'container',
    label: 'Refill stall',
    createdAt: 1,
    changedAt: 1,
    measurement: null,
    warnings: [],
    tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
    photo: null,
  };
  const damaged = { ...sound, id: 'screenshot-0002', label: 'Minus', tape: { ...sound.tape, heightMm: -73 } };
  const head = { format: 'roundwise-kept', version: 1, savedAt: '' };
  const file = { ...head, containers: [sound, damaged], gauges: [], plans: [], carriers: [], pictures: [] };
  const buffer = Buffer.from(JSON.stringify(file));
  await page.getByTestId('kept-file').setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer });
  await page.locator('[role=status] ul').waitFor();
}

async function unfold(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>('details.fold')) fold.open = true;
  });
}

async function takeReadmePictures(chromium: Browser): Promise<void> {
  const shots = [
    { name: 'phone-photo', viewport: PHONE, colorScheme: 'light', reach: async () => {} },
    {
      name: 'phone-sizes',
      viewport: PHONE,
      colorScheme: 'light',
      reach: (page: Page) => choose(page, GOOD, '.numbers'),
    },
    { name: 'phone-plan', viewport: PHONE, colorScheme: 'dark', reach: reachPlan },
    {
      name: 'laptop-sizes',
      viewport: LAPTOP,
      colorScheme: 'light',
      reach: (page: Page) => choose(page, GOOD, '.numbers'),
    },
  ] as const;
  for (const { name, reach, ...look } of shots) {
    const context = await chromium.newContext({ ...look, locale: 'en-GB', reducedMotion: 'reduce' });
    const page = await context.newPage();
    page.setDefaultTimeout(LONG_MS);
    await page.goto(`${url}#photo`);
    await page.locator('main h1').first().waitFor();
    await reach(page);
    await page.evaluate(() => document.fonts.ready.then(() => window.scrollTo(0, 0)));
    await sharp(await page.screenshot())
      .png({ palette: true, quality: 90 })
      .toFile(`${here}${name}.png`);
    await context.close();
    process.stdout.write(`${name}.png\n`);
  }
}

/** The carrier by itself, once it is drawn. */
async function reachPlan(page: Page): Promise<void> {
  await choose(page, GOOD, '.numbers');
  await page.locator('.way-on .button--main').click();
  await page.locator('.carrier .segments label').nth(1).click();
  await page.locator('.carrier__stage > canvas').waitFor();
  await page.waitForTimeout(DRAWN_BY_MS);
}

const [wanted, served] = process.argv.slice(2);
const executablePath = findChromium();
if (!executablePath) throw new Error('No Chromium found: install it, or set CHROMIUM_PATH to one.');
const { url, close } = served ? { url: served, close: async () => {} } : await servePage();
const browser = await chromium.launch({ executablePath, args: ARGS });
if (wanted !== 'readme') for (const locale of LANGUAGES) await writeSheet(browser, locale);
if (wanted !== 'sheet') await takeReadmePictures(browser);
await browser.close();
await close();
