import { readFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Download } from 'playwright-core';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { readTruth } from '../../web/commands/truth.ts';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const chromium = startChromium();
const JAR = 'jar-standing-on-linen';

async function expectAccessible({ page }: Maker): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join()}`)).toEqual([]);
}

async function pictureIn(download: Download) {
  const path = join(await mkdtemp(join(tmpdir(), 'roundwise-')), download.suggestedFilename());
  await download.saveAs(path);
  return sharp(path).metadata();
}

/** As a messenger on the same computer hands a picture over. */
async function pastes({ page }: Maker, path: string, mimeType = 'image/jpeg'): Promise<void> {
  const base64 = readFileSync(path).toString('base64');
  await page.evaluate(
    async ([data, type]) => {
      const bytes = Uint8Array.from(atob(data), (letter) => letter.charCodeAt(0));
      const clipboardData = new DataTransfer();
      clipboardData.items.add(new File([bytes], 'picture', { type }));
      document.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true }));
    },
    [base64, mimeType] as const,
  );
}

test('guide out, photo in, reply out', async () => {
  const maker = await Maker.arrives(chromium(), { hasTouch: true, isMobile: true, acceptDownloads: true });
  const { page, context } = maker;
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);

  // The guide goes out as one picture in her language; this browser shares no files, so it is saved.
  await maker.visits('How to take the photo');
  await page.getByText('Deutsch', { exact: true }).tap();
  await page.getByLabel('Your name').fill('Ann from the refill stall');
  await page.getByLabel('Where the photo is to go').fill('ann@harbour.example');
  await page.getByRole('img', { name: 'The guide as it is sent' }).waitFor();
  await expectAccessible(maker);
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: /(Save|Send) the picture/ }).tap();
  const saved = await saving;
  expect(saved.suggestedFilename()).toBe('so-wird-das-foto.png');
  const { width = 0, height = 0, exif } = await pictureIn(saved);
  expect({ width, exif }).toEqual({ width: 1080, exif: undefined });
  expect(height).toBeGreaterThan(2000);

  // Her photo comes back by the clipboard, wherever the maker is, and is a job at once.
  await pastes(maker, samplePhoto(JAR));
  await maker.waitsForSizes();
  await page.getByLabel('Customer’s name').fill('Mia');
  await page.getByLabel('To be ready on').fill('2026-12-12');
  await page.getByLabel('Price agreed').fill('18');
  await expectAccessible(maker);

  // The reply is written: sizes within their error, price and day.
  const truth = await readTruth(`sample-images/${JAR}.jpg`);
  await page.getByRole('button', { name: 'Copy the text' }).tap();
  await page.getByText('Copied. Paste it into your message.').waitFor();
  const reply = await page.evaluate(() => navigator.clipboard.readText());
  const [, around, high] = /about ([\d.]+) cm around and ([\d.]+) cm high/.exec(reply) ?? [];
  const [across, height95] = [await maker.reads('Widest'), await maker.reads('Height')];
  const HALF_STEP_CM = 0.25;
  expect(Math.abs(Number(around) - (Math.PI * (truth?.maxDiameterMm ?? 0)) / 10)).toBeLessThan(
    (Math.PI * across.plusMinusMm) / 10 + HALF_STEP_CM,
  );
  expect(Math.abs(Number(high) - (truth?.heightMm ?? 0) / 10)).toBeLessThan(height95.plusMinusMm / 10 + HALF_STEP_CM);
  expect(reply).toMatch(/^Hello Mia,/);
  expect(reply).toContain('Net carrier');
  expect(reply).toContain('18.00');
  expect(reply).toContain('12 December');
  const picture = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Send it with the picture' }).tap();
  expect((await pictureIn(await picture)).width).toBe(1200);

  // It stands among the orders until it is handed over.
  await maker.waitsUntilStored(/"customer":"Mia"/);
  await maker.visits('Orders');
  await page.getByText('Due Saturday 12 December').waitFor();
  await page.getByLabel('Paid').check();
  await expectAccessible(maker);
  await maker.waitsUntilStored(/"paid":true/);
  await page.getByLabel('Handed over').check();
  await page.getByText('Handed over earlier').waitFor();
  await maker.waitsUntilStored(/"doneAt":\d/);
  await page.reload();
  await page.getByText('Handed over earlier').tap();
  expect(await page.getByLabel('Paid').isChecked()).toBe(true);
  await maker.leaves();
});

test('a screenshot is told, with the words to ask for the photo; two photos sent together can be one container', async () => {
  const maker = await Maker.arrives(chromium());
  const { page, context } = maker;
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  // A photo as it looks on the screen of a phone: smaller, with bars above and below, as PNG.
  const onScreen = await sharp(samplePhoto(JAR))
    .resize(1080)
    .extend({ top: 700, bottom: 800, background: '#000' })
    .png()
    .toBuffer();
  await page.getByTestId('photo-file').setInputFiles({ name: 's.png', mimeType: 'image/png', buffer: onScreen });
  await page.getByText('This looks like a screenshot.').waitFor();
  await page.getByRole('button', { name: 'Copy a text that asks for the photo itself' }).click();
  await page.getByText('Copied. Paste it into your message.').waitFor();
  expect(await page.evaluate(() => navigator.clipboard.readText())).toContain('instead of the screenshot');

  await maker.goesTo('Photo');
  await page.getByTestId('photo-file').setInputFiles([samplePhoto(JAR), samplePhoto(JAR)]);
  await maker.waitsForSizes();
  await page.getByRole('button', { name: 'The same: put them together' }).click();
  await maker.unfolds('More photos of it');
  await page.getByText(/^Photo 2/).waitFor();

  // A later photo under the name of an open order is offered to that order.
  await page.getByLabel('Customer’s name').fill('Mia');
  await maker.waitsUntilStored(/"customer":"Mia"/);
  await maker.goesTo('Photo');
  await page.getByTestId('photo-file').setInputFiles(samplePhoto(JAR));
  await maker.waitsForSizes();
  await page.getByLabel('Customer’s name').fill('Mia');
  await page.getByText('Mia has an order already.', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'The same: put them together' }).click();
  await maker.unfolds('More photos of it');
  await page.getByText(/^Photo 3/).waitFor();
  await maker.visits('Orders');
  await page.getByText('No day agreed').waitFor();
  expect(await page.locator('.orders__one').count()).toBe(1);
  await maker.leaves();
});

test('a device that shares files hands the guide and the reply to its share sheet, and downloads nothing', async () => {
  const maker = await Maker.arrives(chromium());
  const { page } = maker;
  // A headless browser has no share sheet; this one writes down what it is given, and the maker thinks better of it at first.
  await page.addInitScript(() => {
    const given: string[][] = [];
    const share = async ({ files = [], text = '' }: ShareData) => {
      given.push([...files.map(({ name, type, size }) => `${name} ${type} ${size > 10_000}`), text]);
      if (given.length === 1) throw new DOMException('closed', 'AbortError');
    };
    Object.assign(window, { given });
    Object.defineProperty(navigator, 'canShare', { value: ({ files = [] }: ShareData) => files.length > 0 });
    Object.defineProperty(navigator, 'share', { value: share });
  });
  await page.reload();
  const downloads: string[] = [];
  page.on('download', (download) => downloads.push(download.suggestedFilename()));
  const given = () => page.evaluate(() => (window as unknown as { given: string[][] }).given);

  await maker.visits('How to take the photo');
  await page.getByRole('img', { name: 'The guide as it is sent' }).waitFor();
  for (const times of [1, 2]) {
    await page.getByRole('button', { name: 'Send the picture' }).click();
    await expect.poll(async () => (await given()).length).toBe(times);
  }
  const [[file, says], again] = await given();
  expect(file).toMatch(/^[\w-]+\.png image\/png true$/);
  expect(says).not.toBe('');
  expect(again).toEqual([file, says]);

  await pastes(maker, samplePhoto(JAR));
  await maker.waitsForSizes();
  await page.getByLabel('Customer’s name').fill('Mia');
  await page.getByRole('button', { name: 'Send it with the picture' }).click();
  await expect.poll(async () => (await given()).length, { timeout: 60_000 }).toBe(3);
  const [picture, reply] = (await given())[2];
  expect(picture).toMatch(/ image\/(jpeg|png) true$/);
  expect(reply).toMatch(/^Hello Mia,/);
  expect(downloads).toEqual([]);
  await maker.leaves();
});
