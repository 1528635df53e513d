import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readTruth } from '../../web/commands/truth.ts';
import { LAPTOP, Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const PHOTO = 'coin/tin-standing-beside-a-coin';

describe('a container beside a coin', () => {
  let maker: Maker;
  beforeAll(async () => {
    maker = await Maker.arrives(browser(), { viewport: LAPTOP });
  });
  afterAll(() => maker.leaves());

  test('is measured from the sample photo, with the ring on the coin', async () => {
    await maker.page.getByText('More photos to try').click();
    await maker.page.getByRole('button', { name: 'Tin beside a 2 euro coin' }).click();
    await maker.waitsForSizes();
    const truth = await readTruth(`sample-images/${PHOTO}.jpg`);
    const widest = await maker.reads('Widest');
    expect(Math.abs(widest.mm - (truth?.maxDiameterMm ?? 0))).toBeLessThan(widest.plusMinusMm);
    const height = await maker.reads('Height');
    expect(Math.abs(height.mm - (truth?.heightMm ?? 0))).toBeLessThan(height.plusMinusMm);
    const ring = await maker.page.locator('.drawing__card').getAttribute('points');
    expect(ring?.split(' ')).toHaveLength(64);
    await maker.unfolds('Put the drawing right');
    expect(await maker.page.getByLabel('What lies beside it').inputValue()).toBe('2 euro');
  });

  test('has no way of holding the coin to its front, and says what a coin costs', async () => {
    const ways = await maker.page.getByLabel('Container and card').locator('option').allTextContents();
    expect(ways.join()).toContain('Container stands upright');
    expect(ways.join()).not.toContain('Card');
    await maker.page.getByText('leaves the sizes ± 3 to 5 %', { exact: false }).waitFor();
  });

  test('is refused for want of a card until the coin is chosen', async () => {
    await maker.page.getByLabel('What lies beside it').selectOption('ID-1');
    await maker.page.getByText('No bank card was found', { exact: false }).waitFor();
    await maker.page.getByLabel('What lies beside it').selectOption('2 euro');
    await maker.waitsForSizes();
    expect((await maker.reads('Widest')).mm).toBeGreaterThan(0);
  });

  test('takes for the coin what is pointed out, and nothing else', async () => {
    await maker.page.getByRole('button', { name: 'Point out the coin' }).click();
    // the point begins in the middle of the photo, where there is none
    await maker.page.getByRole('button', { name: 'Point on the coin' }).press('Enter');
    await maker.page.getByText('The coin or disc was not found', { exact: false }).waitFor();
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await maker.waitsForSizes();
  });

  test('follows a corner of the square about the coin', async () => {
    const ring = () => maker.page.locator('.drawing__card').getAttribute('points');
    const [before, found] = [await ring(), await maker.reads('Widest')];
    await maker.page.getByRole('button', { name: 'Square about the coin, top left' }).focus();
    await maker.page.keyboard.press('ArrowLeft');
    await maker.waitsForSizes();
    expect(await ring()).not.toBe(before);
    const { mm, plusMinusMm } = await maker.reads('Widest');
    expect(Math.abs(mm - found.mm)).toBeLessThan(plusMinusMm);
  });

  test('without the coin in the picture, it is put there by hand', async () => {
    await maker.goesTo('Photo');
    await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
    await maker.waitsForSizes();
    await maker.unfolds('Put the drawing right');
    await maker.page.getByLabel('What lies beside it').selectOption('US quarter');
    await maker.page.getByText('The coin or disc was not found', { exact: false }).waitFor();
    await maker.page.getByRole('button', { name: 'Place the coin or disc by hand' }).click();
    await maker.page.getByRole('button', { name: 'Square about the coin, top left' }).waitFor();
  });
});
