import { describe, expect, test } from 'vitest';
import { measureFile } from '../../web/commands/measure-file.ts';
import { LAPTOP, Maker, PHONE, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
/** Browser and Node decode JPEG by different libraries; a grey level here and there moves a size by less than half its ±. */
const SAME = 0.5;
const PHOTO = 'tumbler-standing-on-dark-desk';

describe.each([
  ['phone', PHONE],
  ['laptop', LAPTOP],
])('on a %s', (_device, viewport) => {
  test('a good photo leads to the sizes that the command line measures, and to a plan', async () => {
    const maker = await Maker.arrives(browser(), { viewport });
    await maker.choosesPhoto(samplePhoto(PHOTO));
    await maker.waitsForSizes();

    const line = await measureFile({ path: samplePhoto(PHOTO), options: {} });
    const widest = await maker.reads('Widest');
    expect(Math.abs(widest.mm - (line.maxDiameterMm?.value ?? 0))).toBeLessThan(SAME * widest.plusMinusMm);
    const height = await maker.reads('Height');
    expect(Math.abs(height.mm - (line.heightMm?.value ?? 0))).toBeLessThan(SAME * height.plusMinusMm);

    await maker.page.getByRole('button', { name: 'On to the sizes' }).click();
    await maker.page.getByRole('img', { name: /widest/i }).waitFor();
    await maker.page.getByRole('button', { name: 'On to gauge and yarn' }).click();
    await maker.page.getByRole('button', { name: 'On to the plan' }).click();
    await maker.page
      .getByText(/round 1/i)
      .first()
      .waitFor();
    const plan = await maker.page.locator('main').textContent();
    expect(plan).toMatch(/round 1/i);
    expect(plan).toMatch(/double crochet|\bdc\b|treble|\btr\b/i);
    await maker.leaves();
  });
});

test('from the open page to the sizes takes three taps on a sample photo', async () => {
  const maker = await Maker.arrives(browser());
  let taps = 0;
  const tap = async (locator: ReturnType<typeof maker.page.locator>) => {
    taps += 1;
    await locator.click();
  };
  await tap(maker.page.getByText('No bottle at hand?'));
  await tap(maker.page.getByRole('button', { name: 'Tumbler on a dark desk' }));
  await maker.waitsForSizes();
  await tap(maker.page.getByRole('button', { name: 'On to the sizes' }));
  await maker.page.getByRole('img', { name: /widest/i }).waitFor();
  expect(taps).toBe(3);
  await maker.leaves();
});

test('a photo can be stopped half-way and measured after all', async () => {
  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.page.getByRole('button', { name: 'Stop' }).click();
  await maker.page.getByText('Stopped. The photo is still here.').waitFor();
  await maker.page.getByRole('button', { name: 'Try again' }).click();
  await maker.waitsForSizes();
  await maker.leaves();
});

test('two tape numbers lead to sizes without a photo', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.getByRole('button', { name: 'Use a tape measure instead' }).click();
  const fields = maker.page.locator('main input[type="text"], main input:not([type="radio"]):not([type="file"])');
  await fields.nth(0).fill('230');
  await fields.nth(1).fill('210');
  await maker.page.locator('main form button[type="submit"]').click();
  await maker.page.getByRole('img', { name: /widest/i }).waitFor();
  await maker.leaves();
});

test('a second photo of the same container narrows the ±', async () => {
  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.waitsForSizes();
  await maker.goesTo('Sizes');
  const spread = async () => {
    const text = await maker.page.locator('.sizes__list').textContent();
    return Number(/± ([\d.]+) mm/.exec(text ?? '')?.[1]);
  };
  const alone = await spread();
  await maker.page.getByTestId('further-photo').setInputFiles(samplePhoto(PHOTO));
  await maker.page.getByText(/Photo 2: .* across/).waitFor();
  const fitting = maker.page.getByText('Fitting one shape to all photos');
  await fitting.waitFor();
  await fitting.waitFor({ state: 'detached' });
  expect(await spread()).toBeLessThan(alone);
  await maker.page.getByRole('button', { name: 'Leave out photo 2' }).click();
  expect(await spread()).toBe(alone);
  await maker.leaves();
});
