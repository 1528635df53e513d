import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
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
