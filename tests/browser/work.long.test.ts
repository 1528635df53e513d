import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { LAPTOP, Maker, PHONE, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
/** Middle of the coin's rim in the sample, from the truth beside it. */
const COIN_PX = [770, 419];

describe.each([
  ['phone, light', { viewport: PHONE, colorScheme: 'light' as const }],
  ['laptop, dark', { viewport: LAPTOP, colorScheme: 'dark' as const }],
])('%s', (_device, options) => {
  test('a photographed disc says how to go on, and the plan takes it', async () => {
    const maker = await makerAtPlan(options);
    const { page } = maker;
    await tick(page, 2);
    await page.getByRole('button', { name: 'Photograph the disc' }).click();
    await page.locator('#work-title').waitFor();
    expect(await barriers(page)).toEqual([]);
    await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/jar-base-two-rounds'));
    await page.getByText('What it means for the plan').waitFor();

    // The truth beside the sample: 41.6 mm.
    const [, mm, spread] =
      /([\d.]+) ± ([\d.]+) mm/.exec((await page.locator('.check__sizes').textContent()) ?? '') ?? [];
    expect(Math.abs(Number(mm) - 41.6)).toBeLessThan(1.5 * Number(spread));
    await page.getByLabel('Rounds worked').fill('2');
    await page.getByLabel('Stitches in the last round').fill('20');
    await page.locator('.work__course').waitFor();
    expect(await page.locator('.work__course').textContent()).toMatch(/Go on|round|Start/);
    expect(await barriers(page)).toEqual([]);

    await page.getByRole('button', { name: 'Use it in the plan' }).click();
    await page.getByText(/The photo shows 4\d/).waitFor();
    expect(await barriers(page)).toEqual([]);
    await maker.leaves();
  });

  test('a photographed swatch becomes a kept gauge with its ±', async () => {
    const maker = await makerAtPlan(options);
    const { page } = maker;
    await maker.opensYarn();
    await page.getByText('My swatch').click();
    await page.getByRole('button', { name: 'Photograph a swatch' }).click();
    await page.getByText('No work at hand?').click();
    await page.getByRole('button', { name: /Cotton swatch/ }).click();
    await page.getByText('What it means for the gauge').waitFor();
    expect(await barriers(page)).toEqual([]);
    await page.getByLabel('Stitch of the base').waitFor({ state: 'detached' });
    await page.getByLabel('Name of this gauge').fill('Harbour cotton');
    await page.getByRole('button', { name: 'Use and keep this gauge' }).click();
    await page.getByText(/Both lengths come from a photo/).waitFor();
    await maker.closesSheet();
    await maker.visits('What I kept');
    await page.getByText('Harbour cotton').waitFor();
    await maker.leaves();
  });
});

test('a swatch is counted anew, and asked about when it does not go with what was typed before', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await maker.opensYarn();
  await page.getByText('My swatch').click();
  const sheet = page.getByRole('dialog', { name: 'Which yarn?' });
  // 32 stitches and 18 rounds over 20 cm: another piece than the one in the photo, 16 stitches and 15 rows on 85 × 99 mm.
  await sheet.getByLabel('Stitches counted').fill('32');
  await sheet.getByLabel('over a width of').fill('200 mm');
  await sheet.getByLabel('Rounds counted').fill('18');
  await sheet.getByLabel('over a height of').fill('200 mm');
  await page.getByRole('button', { name: 'Photograph a swatch' }).click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/cotton-swatch'));
  await page.getByText('Type rows and stitches to see your gauge.').waitFor();
  expect(await page.getByLabel('Stitches in a row').inputValue()).toBe('');
  await page.getByText('Typed before: 32. Count this piece.').waitFor();
  const use = page.getByRole('button', { name: 'Use and keep this gauge' });
  // As it happened: the counts of the other piece.
  await page.getByLabel('Stitches in a row').fill('32');
  await page.getByLabel('Rows', { exact: true }).fill('18');
  await page.getByText('They do not go together.', { exact: false }).waitFor();
  expect(await use.isDisabled()).toBe(true);
  expect(await barriers(page)).toEqual([]);
  await page.getByLabel('Yes, these are the counts of this piece').check();
  expect(await use.isDisabled()).toBe(false);
  await maker.leaves();
});

test('a disc beside a coin is measured by it: the ring lies on the coin, and a typed thickness stays with the gauge', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await tick(page, 2);
  await page.getByRole('button', { name: 'Photograph the disc' }).click();
  await page.getByText('No work at hand?').click();
  await page.getByRole('button', { name: /beside a 2 euro coin/ }).click();
  await page.getByText('What it means for the plan').waitFor();
  // The truth beside the sample: 63.8 mm.
  const sizes = page.locator('.check__sizes');
  expect(await sizes.textContent()).toMatch(/6[34]\.\d ± /);
  const [x, y] = await middleOf(page, '.drawing__card');
  expect(Math.hypot(x - COIN_PX[0], y - COIN_PX[1])).toBeLessThan(4);

  await page.getByText('is taken from the stitches', { exact: false }).waitFor();
  const guessed = await sizes.textContent();
  await page.getByLabel('Fabric is thick').fill('1/8 in');
  await page.getByLabel('Fabric is thick').press('Enter');
  await page.waitForFunction((before) => document.querySelector('.check__sizes')?.textContent !== before, guessed);
  await page.getByText('Kept with the gauge', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Back to the plan' }).click();
  await maker.opensYarn();
  await page.getByText('My swatch').click();
  await page.getByRole('button', { name: 'Photograph a swatch' }).click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/cotton-swatch'));
  await page.getByText('What it means for the gauge').waitFor();
  expect(await page.getByLabel('Fabric is thick').inputValue()).toBe('3.18');
  await maker.leaves();
});

describe('with the browser set to text twice as large, on a phone', () => {
  const largePrint = startChromium(32);

  test('the work screens fit its width and stay free of barriers', async () => {
    const maker = await makerAtPlan({}, largePrint());
    const { page } = maker;
    await maker.opensYarn();
    await page.getByText('My swatch').click();
    await page.getByRole('button', { name: 'Photograph a swatch' }).click();
    await page.locator('#work-title').waitFor();
    await fits(page, 'before the photo');
    await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/cotton-swatch'));
    await page.getByText('What it means for the gauge').waitFor();
    await fits(page, 'swatch');
    await page.getByRole('button', { name: 'Back to the gauge' }).click();
    await maker.closesSheet();
    await tick(page, 2);
    await page.getByRole('button', { name: 'Photograph the disc' }).click();
    await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/jar-base-two-rounds'));
    await page.getByText('What it means for the plan').waitFor();
    await fits(page, 'disc');
    await maker.leaves();
  });
});

test('what the engine is at is said while a photo of the work is measured', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await tick(page, 2);
  await page.getByRole('button', { name: 'Photograph the disc' }).click();
  await page.evaluate(() => {
    const said = new Set<string>();
    Object.assign(window, { said });
    new MutationObserver(() => {
      for (const status of document.querySelectorAll('[role=status]')) said.add(status.textContent ?? '');
    }).observe(document.body, { childList: true, subtree: true, characterData: true });
  });
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/jar-base-two-rounds'));
  await page.getByText('What it means for the plan').waitFor();
  const said = await page.evaluate(() => [...(window as unknown as { said: Set<string> }).said]);
  expect(said).toEqual(
    expect.arrayContaining([
      'Opening the photo …',
      'Looking for what gives the scale …',
      'Following the edge of the work …',
    ]),
  );
  await maker.leaves();
});

test('a tube laid flat is held against the plan', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await page.getByText('Choices', { exact: true }).click();
  await page.getByLabel('Closed sleeve').check();
  await page.evaluate(() => {
    for (const check of document.querySelectorAll<HTMLDetailsElement>('details.plan__check')) check.open = true;
  });
  await page.getByRole('button', { name: 'Photograph it laid flat' }).first().click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/sleeve-in-progress'));
  await page.getByText('What it means for the plan').waitFor();
  // It lies diagonally, so it is asked which side the rounds run along; both lengths are possible until then.
  await page.getByText('either side may run along its rows', { exact: false }).waitFor();
  await page.getByLabel('along its longer side').check();
  await page.getByText('either side may run along its rows', { exact: false }).waitFor({ state: 'detached' });
  // The truth beside the sample: 112 mm wide, 88 mm long.
  expect(await page.locator('.check__sizes').textContent()).toMatch(/wide11[0-4].*Long(8[6-9]|90)/);
  // The round is counted on this very tube; here it is the plan's.
  const planned = await page.getByText(/The plan has \d+ here/).textContent();
  await page.getByLabel('After round').fill(/\d+/.exec(planned ?? '')?.[0] ?? '');
  await page.getByText(/Planned length laid flat/).waitFor();
  await maker.leaves();
});

test('a check that was begun is there after a reload, its card covered', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await tick(page, 2);
  await page.getByRole('button', { name: 'Photograph the disc' }).click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/jar-base-two-rounds'));
  await page.getByText('What it means for the plan').waitFor();
  const sizes = await page.locator('.check__sizes').textContent();
  await maker.waitsUntilStored(/"picture":\{\},.*"answer":\{"to"/);
  await page.reload();
  await page.getByText('What it means for the plan').waitFor();
  expect(await page.locator('.check__sizes').textContent()).toBe(sizes);
  // Middle of the card in the sample; the cover's colour.
  const pixel = await page.locator('.photo-canvas image').evaluate(async (image) => {
    const picture = new Image();
    picture.src = image.getAttribute('href') ?? '';
    await picture.decode();
    const drawing = new OffscreenCanvas(picture.width, picture.height).getContext('2d');
    drawing?.drawImage(picture, 0, 0);
    return [...(drawing?.getImageData(850, 797, 1, 1).data ?? [])];
  });
  for (const [k, level] of [0xd7, 0xde, 0xdb].entries()) expect(Math.abs(pixel[k] - level)).toBeLessThan(6);
  await maker.leaves();
});

test('a photo without work is refused with the way out, and the typed entry remains', async () => {
  const maker = await makerAtPlan({});
  const { page } = maker;
  await tick(page, 2);
  await page.getByRole('button', { name: 'Photograph the disc' }).click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('jam-jar-lying-on-linen'));
  await page.getByText('Not measured yet').waitFor();
  await page.getByRole('button', { name: 'Back to the plan' }).click();
  await page.getByLabel('Mine is across').first().waitFor();
  await maker.leaves();
});

test.each(['A4', 'US Letter'])(
  'the printed frame has its true size on %s, and the corrected one is used',
  async (paper) => {
    const maker = await Maker.arrives(browser());
    const { page } = maker;
    await maker.visits('How to take the photo');
    await page.getByRole('button', { name: 'No card at hand? Print a frame' }).click();
    await page.getByText(paper, { exact: true }).click();
    expect(await barriers(page)).toEqual([]);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length).toBe(1);
    await page.emulateMedia({ media: 'print' });
    const frame = await page.locator('.ruler__sheet rect').nth(1).boundingBox();
    const mmPerPx = 25.4 / 96;
    expect((frame?.width ?? 0) * mmPerPx).toBeCloseTo(85.6, 1);
    expect((frame?.height ?? 0) * mmPerPx).toBeCloseTo(53.98, 1);
    await page.emulateMedia({ media: 'screen' });

    await page.getByLabel('The check line is long').fill('145.5');
    await page.getByText('83.0 mm × 52.4 mm').waitFor();
    await page.getByRole('button', { name: 'Use this frame from now on' }).click();
    await page.getByText(/In use/).waitFor();
    expect(await barriers(page)).toEqual([]);
    await page.reload();
    await page.getByText(/In use/).waitFor();
    await maker.open();
    await maker.choosesPhoto(samplePhoto('jar-standing-on-linen'));
    await page.getByLabel('What lies beside it').waitFor();
    expect(await page.getByLabel('What lies beside it').inputValue()).toBe('printed frame 145.5/150');
    await page.getByLabel('What lies beside it').selectOption({ label: 'Bank card' });
    await maker.waitsForSizes();
    await maker.leaves();
  },
);

async function makerAtPlan(options: Parameters<typeof Maker.arrives>[1], chromium = browser()): Promise<Maker> {
  const maker = await Maker.arrives(chromium, options);
  await maker.typesTape('230 mm', '210 mm');
  await maker.goesTo('Plan');
  await maker.page.getByRole('heading', { name: 'Rounds', exact: true }).waitFor();
  return maker;
}

/** Ticks the rounds up to this one. */
async function tick(page: Page, round: number): Promise<void> {
  await page.getByRole('checkbox', { name: new RegExp(`Round ${round}\\b`) }).check();
}

async function fits(page: Page, screen: string): Promise<void> {
  const [content, window] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(content, screen).toBeLessThanOrEqual(window);
  expect(await barriers(page), screen).toEqual([]);
}

/** Middle of the box about a polygon on the photo, in photo px. */
async function middleOf(page: Page, polygon: string): Promise<[number, number]> {
  const points = ((await page.locator(polygon).getAttribute('points')) ?? '')
    .split(' ')
    .map((p) => p.split(',').map(Number));
  return [0, 1].map((k) => {
    const along = points.map((point) => point[k]);
    return (Math.min(...along) + Math.max(...along)) / 2;
  }) as [number, number];
}

async function barriers(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target).join(', ')}`);
}
