import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { sampleTruth } from '../support/truth.ts';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const chromium = startChromium();
const FLASK = 'steel-flask-standing-on-white-desk';
const truth = JSON.parse(readFileSync(samplePhoto(FLASK).replace(/\.jpg$/, '.json'), 'utf8'));

async function atTheStall(): Promise<Maker> {
  const maker = await Maker.arrives(chromium(), { hasTouch: true, isMobile: true });
  await maker.page.goto(`${maker.pageUrl}#stall`);
  await maker.page.getByRole('heading', { level: 1, name: 'What fits this?' }).waitFor();
  return maker;
}

/** Hangs up a piece made for a container this far around. */
async function hangsUp(
  { page }: Maker,
  { kind = 'Net carrier', around = '', height = '', price = '', name = '', count = '1' },
) {
  const fold = page.locator('details', { has: page.getByText('Hang up a piece', { exact: true }) });
  if (!(await fold.evaluate((details: HTMLDetailsElement) => details.open))) await fold.locator('summary').tap();
  await fold.getByText(kind, { exact: true }).tap();
  await fold.getByLabel('Around', { exact: true }).fill(around);
  await fold.getByLabel('Its height').fill(height);
  await fold.getByLabel('Price').fill(price);
  await fold.getByLabel('How many').fill(count);
  await fold.getByLabel('Name').fill(name);
  await fold.getByRole('button', { name: 'Hang it up' }).tap();
  await fold.getByText(/hangs?\.$/).waitFor();
}

test('one tap and a photo of known size say what fits, on the screen where it was asked', async () => {
  const maker = await atTheStall();
  const { page } = maker;
  await hangsUp(maker, {
    kind: 'Net carrier',
    around: `${((Math.PI * truth.container.max_diameter_mm) / 10).toFixed(1)} cm`,
    height: `${(truth.container.height_mm / 10).toFixed(1)} cm`,
    price: '18',
    name: 'kelp net',
  });
  await hangsUp(maker, { around: '26 cm', height: '21 cm', name: 'wide net' });
  const chooser = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Take the photo' }).tap();
  await (await chooser).setFiles(samplePhoto(FLASK));
  const fitting = page.locator('.stall__sheet');
  await fitting.waitFor();
  // Made by a guessed gauge, it is to be tried on or fits.
  const offered = await fitting.locator('.piece').allInnerTexts();
  expect(offered).toEqual([expect.stringMatching(/(Fits|Try it on)[\s\S]*kelp net/)]);
  expect(await fitting.textContent()).not.toContain('wide net');
  expect(await page.evaluate(() => location.hash)).toBe('#stall');
  await maker.leaves();
});

test('a typed girth is answered at once; what is sold can be taken back', async () => {
  const maker = await atTheStall();
  const { page } = maker;
  await hangsUp(maker, { around: '23 cm', height: '21 cm', price: '16', name: 'coral net', count: '2' });
  await page.getByLabel('Around', { exact: true }).first().fill('22,9');
  await page.getByText('Fits easily').waitFor();
  await page.getByText('2 of these').waitFor();
  await page.getByRole('button', { name: 'Sold' }).first().tap();
  await page.getByText('“coral net” is sold.').waitFor();
  await page.getByText('1 sold, 16').waitFor({ state: 'attached' });
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByText('Nothing sold yet today.').waitFor({ state: 'attached' });
  await page.getByText('2 of these').waitFor();
  await maker.leaves();
});

test('a girth typed as a width is doubted', async () => {
  const maker = await atTheStall();
  const { page } = maker;
  // nothing hangs there yet, and that is what is said, with the way to the first piece
  await page.getByText('No stock here yet.').waitFor();
  await page.getByRole('button', { name: 'Hang up a piece' }).tap();
  await page.getByText('across', { exact: true }).tap();
  await page.getByLabel('Across', { exact: true }).fill('27 cm');
  await page.getByText(/A container 270 mm across\? Did you mean around\?/).waitFor();
  await page.getByRole('button', { name: 'Around, yes' }).tap();
  expect(await page.locator('details').getByLabel('Around', { exact: true }).inputValue()).toBe('27');
  await maker.leaves();
});

test('her own photo of a piece stands on its card, the bank card in it covered', async () => {
  const maker = await atTheStall();
  const { page } = maker;
  await hangsUp(maker, { around: '23 cm', height: '21 cm', name: 'coral net' });
  await page.getByTestId('piece-photo').setInputFiles(samplePhoto(FLASK));
  const picture = page.locator('.piece img');
  const { cornersPx } = await sampleTruth(FLASK);
  const { width = 1, height = 1 } = await sharp(samplePhoto(FLASK)).rotate().metadata();
  const middle = [0, 1].map((k) => cornersPx.reduce((sum, corner) => sum + corner[k] / 4, 0));
  const inTheMiddleOfTheCard = () =>
    picture.evaluate(
      async (img: HTMLImageElement, [x, y]) => {
        await img.decode();
        const canvas = new OffscreenCanvas(img.naturalWidth, img.naturalHeight);
        const drawing = canvas.getContext('2d') as OffscreenCanvasRenderingContext2D;
        drawing.drawImage(img, 0, 0);
        return [...drawing.getImageData(x * canvas.width, y * canvas.height, 1, 1).data.slice(0, 3)];
      },
      [middle[0] / width, middle[1] / height] as const,
    );
  const COVER = [0xd7, 0xde, 0xdb];
  const offCover = async () =>
    Math.max(...(await inTheMiddleOfTheCard()).map((value, k) => Math.abs(value - COVER[k])));
  await expect.poll(offCover).toBeLessThan(6);

  // One without a card is asked about, and kept when she says that there is none.
  const yarn = await sharp({ create: { width: 800, height: 800, channels: 3, background: '#c65f4b' } })
    .jpeg()
    .toBuffer();
  const before = await picture.getAttribute('src');
  await page.getByTestId('piece-photo').setInputFiles({ name: 'y.jpg', mimeType: 'image/jpeg', buffer: yarn });
  await page.getByText('No bank card was found in it.', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'There is none: keep it' }).tap();
  await expect.poll(() => picture.getAttribute('src')).not.toBe(before);
  await maker.leaves();
});

test('a finished plan hangs on the rail with one tap, and fits what it was made for', async () => {
  const maker = await Maker.arrives(chromium(), { hasTouch: true, isMobile: true });
  const { page } = maker;
  await maker.typesTape('23', '21');
  await maker.goesTo('Plan');
  await page.getByRole('button', { name: 'Finished and tried on: into stock' }).tap();
  await page.getByText('It is in your stock.').waitFor();
  await maker.visits('At the stall');
  await page.locator('.piece').getByText('Net carrier for 73 mm').waitFor();
  await page.getByLabel('Around', { exact: true }).first().fill('23');
  const verdict = page.locator('.piece__verdict').first();
  await verdict.waitFor();
  expect(await verdict.textContent()).toMatch(/Fits|Try it on/);
  await maker.leaves();
});

test('a new one is planned for the day that is agreed, and stands among the orders', async () => {
  const maker = await atTheStall();
  const { page } = maker;
  await page.getByLabel('Around', { exact: true }).first().fill('23');
  await page.getByLabel('Height, if you know it').fill('21');
  await page.getByLabel('To be ready on').fill('2026-12-12');
  await page.getByRole('button', { name: 'Plan it' }).tap();
  await page.locator('#plan-title').waitFor();
  await maker.waitsUntilStored(/"due":"2026-12-12"/);
  await maker.visits('Orders');
  await page.getByText('Due Saturday 12 December').waitFor();
  await maker.visits('At the stall');
  await page.getByLabel('Around', { exact: true }).first().fill('23');
  await page.getByLabel('Height, if you know it').fill('21');
  await page.getByText('One order waits before it, the last for Saturday 12 December.', { exact: false }).waitFor();
  await maker.leaves();
});
