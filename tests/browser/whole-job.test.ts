import type { Locator } from 'playwright-core';
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
    const maker = await Maker.arrives(browser(), { viewport, reducedMotion: 'no-preference' });
    await maker.choosesPhoto(samplePhoto(PHOTO));
    await maker.waitsForSizes();

    const line = await measureFile({ path: samplePhoto(PHOTO), options: {} });
    const widest = await maker.reads('Widest');
    expect(Math.abs(widest.mm - (line.maxDiameterMm?.value ?? 0))).toBeLessThan(SAME * widest.plusMinusMm);
    const height = await maker.reads('Height');
    expect(Math.abs(height.mm - (line.heightMm?.value ?? 0))).toBeLessThan(SAME * height.plusMinusMm);

    await maker.page.getByRole('button', { name: 'The plan for it' }).click();
    await maker.page.locator('#plan-title').waitFor();
    const plan = await maker.page.locator('main').textContent();
    expect(plan).toMatch(/round 1/i);
    expect(plan).toMatch(/double crochet|\bdc\b|treble|\btr\b/i);
    await maker.leaves();
  });
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

describe('two tape numbers lead to sizes without a photo', () => {
  test.each([
    ['22.9', '21', 'in centimetres'],
    ['229', '210', 'in millimetres, which only they can be'],
    ['9 in', '8 1/4 in', 'in inches'],
  ])('%s and %s, %s', async (around, height) => {
    const maker = await Maker.arrives(browser());
    await maker.typesTape(around, height);
    // 229 mm and 9 in (228.6 mm) around, over pi: 72.9 and 72.8 mm across.
    const across = await maker.reads('Widest');
    expect(Math.abs(across.mm - 72.9)).toBeLessThanOrEqual(0.15);
    await maker.leaves();
  });

  test('a unit that was guessed is said before it is used', async () => {
    const maker = await Maker.arrives(browser());
    await maker.page.getByRole('button', { name: 'My tape' }).click();
    await maker.page.getByLabel('Widest place').fill('229');
    await maker.page.getByText('229 mm? Read that way.').waitFor();
    await maker.leaves();
  });
});

test('a second photo of the same container narrows the ±', async () => {
  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.waitsForSizes();
  const spread = async () => (await maker.reads('Widest')).plusMinusMm;
  const alone = await spread();
  await maker.unfolds('More photos of it');
  await maker.page.getByTestId('further-photo').setInputFiles(samplePhoto(PHOTO));
  await maker.page.getByText(/Photo 2: .* across/).waitFor();
  await expect.poll(spread).toBeLessThan(alone);
  await maker.page.getByRole('button', { name: 'Leave out photo 2' }).click();
  await expect.poll(spread).toBe(alone);
  await maker.leaves();
});

describe('the way to Start', () => {
  test('from the example: two taps, nothing to scroll', async () => {
    const walk = await Walk.begins();
    await walk.taps(walk.maker.page.locator('.example'));
    await walk.maker.waitsForSizes();
    await walk.taps(walk.maker.page.getByRole('button', { name: 'The plan for it' }));
    await walk.sees(walk.maker.page.getByRole('button', { name: /^Start/ }));
    expect(walk.sofar()).toEqual({ taps: 2, scrolledPx: 0 });
    await walk.maker.leaves();
  });

  test('from an own photo: no tap to the first millimetre, one to Start, nothing to scroll', async () => {
    const walk = await Walk.begins();
    await walk.maker.choosesPhoto(samplePhoto(PHOTO));
    await walk.maker.waitsForSizes();
    await walk.sees(walk.maker.page.locator('.numbers'));
    expect(walk.sofar()).toEqual({ taps: 0, scrolledPx: 0 });
    await walk.taps(walk.maker.page.getByRole('button', { name: 'The plan for it' }));
    await walk.sees(walk.maker.page.getByRole('button', { name: /^Start/ }));
    expect(walk.sofar()).toEqual({ taps: 1, scrolledPx: 0 });
    await walk.maker.leaves();
  });

  test('the yarn of the last plan is remembered for the next container', async () => {
    const maker = await Maker.arrives(browser());
    await maker.typesTape('22.9', '21');
    await maker.goesTo('Plan');
    await maker.page.getByRole('button', { name: 'Change' }).click();
    await maker.page.getByText('Medium (worsted, aran)').first().click();
    await maker.page.getByRole('button', { name: 'Make it with this yarn' }).click();
    await maker.visits('Another bottle or jar');
    await maker.typesTape('25', '18');
    await maker.goesTo('Plan');
    expect(await maker.page.locator('.yarn-button').textContent()).toMatch(/Medium \(worsted, aran\)5\.0 mm/);
    await maker.leaves();
  });

  test('the browser goes back the way she came: sheet, plan, sizes, photo', async () => {
    const maker = await Maker.arrives(browser());
    await maker.typesTape('22.9', '21');
    await maker.page.getByRole('button', { name: 'The plan for it' }).click();
    await maker.page.getByRole('button', { name: 'Change' }).click();
    await maker.page.getByRole('dialog').waitFor();
    await maker.page.goBack();
    await maker.page.getByRole('dialog').waitFor({ state: 'detached' });
    await maker.page.locator('#plan-title').waitFor();
    await maker.page.goBack();
    await maker.page.locator('.numbers').waitFor();
    await maker.page.goBack();
    await maker.page.getByRole('dialog', { name: 'With a tape' }).waitFor();
    await maker.page.goBack();
    await maker.page.getByRole('button', { name: 'Take the photo' }).waitFor();
    await maker.leaves();
  });
});

/** A walk through the page at 390 × 844 that counts what it costs. */
class Walk {
  readonly maker: Maker;
  #taps = 0;
  #scrolledPx = 0;

  private constructor(maker: Maker) {
    this.maker = maker;
  }

  static async begins(): Promise<Walk> {
    return new Walk(await Maker.arrives(browser(), { viewport: PHONE, hasTouch: true }));
  }

  /** As far as must be scrolled for all of it to be in view; 0 when it is. */
  async sees(place: Locator): Promise<void> {
    await place.waitFor();
    const box = await place.boundingBox();
    if (!box) throw new Error('It is not on the screen.');
    this.#scrolledPx += Math.ceil(Math.max(0, box.y + box.height - PHONE.height, -box.y));
  }

  async taps(place: Locator): Promise<void> {
    await this.sees(place);
    this.#taps += 1;
    await place.tap();
  }

  sofar(): { readonly taps: number; readonly scrolledPx: number } {
    return { taps: this.#taps, scrolledPx: this.#scrolledPx };
  }
}
