import { AxeBuilder } from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LAPTOP, Maker, PHONE, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const STEPS = ['Photo', 'Sizes', 'Plan'];
const PLACES = ['Stall', 'Orders', 'Kept', 'Regrade', 'Guide', 'Settings'];
const SHEETS = ['Menu', 'Tape', 'Yarn'];

describe.each([
  ['phone, light', { viewport: PHONE, colorScheme: 'light' as const }],
  ['laptop, dark', { viewport: LAPTOP, colorScheme: 'dark' as const }],
])('%s', (_device, options) => {
  let maker: Maker;
  beforeAll(async () => {
    maker = await Maker.arrives(browser(), { ...options });
    await maker.choosesPhoto(samplePhoto('jam-jar-standing-on-dark-desk'));
    await maker.waitsForSizes();
  });
  afterAll(() => maker.leaves());

  test.each([...STEPS, ...PLACES, ...SHEETS])('%s meets WCAG 2.2 AA as far as axe can tell', async (screen) => {
    await visit(maker, screen);
    expect(await barriers(maker)).toEqual([]);
  });
});

describe.each([
  ['phone', { viewport: PHONE }],
  ['phone, in German', { viewport: PHONE, locale: 'de-DE' }],
  ['laptop', { viewport: LAPTOP }],
])('with the browser set to text twice as large, on a %s', (_device, options) => {
  const largePrint = startChromium(32);

  test('every screen fits its width and stays free of barriers', async () => {
    const maker = await Maker.arrives(largePrint(), options);
    await maker.choosesPhoto(samplePhoto('jam-jar-standing-on-dark-desk'));
    await maker.waitsForSizes();
    for (const screen of [...STEPS, ...PLACES, ...SHEETS]) {
      await visit(maker, screen);
      const [content, window] = await maker.page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      expect(content, screen).toBeLessThanOrEqual(window);
      expect(await barriers(maker), screen).toEqual([]);
    }
    await maker.leaves();
  });
});

/** By its place in the row, so that it is found in any language; every line that is folded is opened. */
async function visit(maker: Maker, screen: string): Promise<void> {
  const { page } = maker;
  if (await page.locator('dialog').count()) await maker.closesSheet();
  if (PLACES.includes(screen) || screen === 'Menu') await page.locator('.shell__menu').click();
  if (PLACES.includes(screen)) {
    await page
      .locator('.shell__places button')
      .nth(PLACES.indexOf(screen) + 1)
      .click();
  } else if (screen !== 'Menu') {
    if (!(await page.locator('.shell__steps').count())) {
      await page.locator('.shell__menu').click();
      await page.locator('.shell__places button').first().click();
    }
    const step = screen === 'Tape' ? 'Photo' : screen === 'Yarn' ? 'Plan' : screen;
    await page.locator('.shell__steps button').nth(STEPS.indexOf(step)).click();
    if (screen === 'Tape') await page.locator('.photo-buttons button').last().click();
    if (screen === 'Yarn') await page.locator('.yarn-button').click();
  }
  await (SHEETS.includes(screen) ? page.locator('dialog h2') : page.locator('main h1')).first().waitFor();
  await page.evaluate(() => {
    for (const fold of document.querySelectorAll<HTMLDetailsElement>('details.fold')) fold.open = true;
  });
}

/** Violations of WCAG 2.2 A and AA and of axe's best practice, with the elements they are in. */
async function barriers(maker: Maker): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page: maker.page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target).join(', ')}`);
}
