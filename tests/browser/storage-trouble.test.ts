import { expect, test } from 'vitest';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();

test('with storage blocked the job still works, and the maker is told that nothing is kept', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
  });
  const maker = await Maker.in(context);
  await maker.page.getByText('This browser keeps nothing for this page', { exact: false }).waitFor();
  await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.waitsForSizes();
  expect((await maker.reads('Widest')).mm).toBeGreaterThan(50);
  await maker.leaves();
});

test('with the disk full the maker is told that the last change was not kept', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  await context.addInitScript(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  const maker = await Maker.in(context);
  await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.page.getByText('The device is full', { exact: false }).waitFor({ timeout: 20_000 });
  expect(await maker.page.getByRole('alert').count()).toBe(1);
  await maker.leaves();
});
