/** One look at each matter that the long browser tests go through: screens, photo files, storage, coins, work in a photo. */
import { AxeBuilder } from '@axe-core/playwright';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { readTruth } from '../../web/commands/truth.ts';
import { Maker, samplePhoto, startChromium, testFile } from './maker.ts';

const browser = startChromium();
const JAR = 'jam-jar-standing-on-dark-desk';
const COIN = 'coin/tin-standing-beside-a-coin';

async function expectWithinItsError(maker: Maker, sample: string): Promise<void> {
  const truth = await readTruth(`sample-images/${sample}.jpg`);
  const widest = await maker.reads('Widest');
  expect(Math.abs(widest.mm - (truth?.maxDiameterMm ?? 0))).toBeLessThan(widest.plusMinusMm);
}

test('HEIC, which this browser cannot show, and a photo stored turned are measured like any other', async () => {
  const maker = await Maker.arrives(browser());
  const photo = maker.page.getByTestId('photo-file');
  await photo.setInputFiles({ name: 'x.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('Dear harbour master,') });
  await maker.page
    .getByRole('alert')
    .filter({ hasText: /not a photo/ })
    .waitFor();
  await maker.choosesPhoto(testFile(`${JAR}.heic`));
  await maker.waitsForSizes();
  await expectWithinItsError(maker, JAR);

  await maker.goesTo('Photo');
  const turned = await sharp(samplePhoto(JAR)).rotate(270).withMetadata({ orientation: 6 }).jpeg().toBuffer();
  await photo.setInputFiles({ name: 'turned.jpg', mimeType: 'image/jpeg', buffer: turned });
  await maker.waitsForSizes();
  await expectWithinItsError(maker, JAR);
  await maker.leaves();
});

test('with storage blocked the job still works beside a coin, and the maker is told that nothing is kept', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
  });
  const maker = await Maker.in(context);
  await maker.page.getByText('This browser keeps nothing for this page', { exact: false }).waitFor();
  await maker.page.getByText('More photos to try').click();
  await maker.page.getByRole('button', { name: 'Tin beside a 2 euro coin' }).click();
  await maker.waitsForSizes();
  await expectWithinItsError(maker, COIN);
  await maker.leaves();
});

test('a photographed disc goes into the plan', async () => {
  const maker = await Maker.arrives(browser());
  const { page } = maker;
  await maker.typesTape('230 mm', '210 mm');
  await maker.goesTo('Plan');
  await page.getByRole('checkbox', { name: /Round 2\b/ }).check();
  await page.getByRole('button', { name: 'Photograph the disc' }).click();
  await page.getByTestId('work-photo').setInputFiles(samplePhoto('work/jar-base-two-rounds'));
  await page.getByText('What it means for the plan').waitFor();
  await page.getByLabel('Rounds worked').fill('2');
  await page.getByLabel('Stitches in the last round').fill('20');
  await page.getByRole('button', { name: 'Use it in the plan' }).click();
  await page.getByText(/The photo shows 4\d/).waitFor();
  await maker.leaves();
});

test('every screen fits a phone in German and is free of barriers', async () => {
  const maker = await Maker.arrives(browser(), { locale: 'de-DE' });
  const { page } = maker;
  await maker.choosesPhoto(samplePhoto(JAR));
  await maker.waitsForSizes();
  const expectFitting = async () => {
    const title = page.locator('main h1').first();
    await title.waitFor();
    const { violations } = await new AxeBuilder({ page }).analyze();
    const screen = (await title.textContent()) ?? '';
    expect(
      violations.map(({ id }) => id),
      screen,
    ).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth), screen).toBeLessThanOrEqual(0);
  };
  // By class, so that they are found in any language.
  for (const step of await page.locator('.shell__steps button').all()) {
    await step.click();
    await expectFitting();
  }
  for (let place = 1; place <= 5; place += 1) {
    await page.locator('.shell__menu').click();
    await page.locator('.shell__places button').nth(place).click();
    await expectFitting();
  }
  await maker.leaves();
});
