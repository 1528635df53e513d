import { appendFile, cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Maker, PHONE, samplePhoto, startChromium } from './maker.ts';
import { outDir, serveFolder } from './serve-page.ts';

const browser = startChromium();

test('after the first visit the whole job works with the network cut', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await maker.context.setOffline(true);
  await maker.page.reload();
  await maker.page.locator('main h1').waitFor();
  await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.waitsForSizes();
  expect((await maker.reads('Widest')).mm).toBeGreaterThan(50);
  await maker.leaves();
});

/** What the system's share sheet does: a form sent to the address in the manifest. */
async function shares(maker: Maker, samples: readonly string[]): Promise<void> {
  await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await maker.page.evaluate(async (names) => {
    const form = document.createElement('form');
    form.method = 'post';
    form.enctype = 'multipart/form-data';
    form.action = './share';
    const input = document.createElement('input');
    input.type = 'file';
    input.multiple = true;
    input.name = 'photo';
    const transfer = new DataTransfer();
    for (const name of names) {
      const photo = await (await fetch(`samples/${name}.jpg`)).blob();
      transfer.items.add(new File([photo], `${name}.jpg`, { type: 'image/jpeg' }));
    }
    input.files = transfer.files;
    form.append(input);
    document.body.append(form);
    form.submit();
  }, samples);
}

test('a photo shared from another app is opened', async () => {
  const maker = await Maker.arrives(browser());
  await shares(maker, ['tumbler-standing-on-dark-desk']);
  await maker.waitsForSizes();
  expect(new URL(maker.page.url()).search).toBe('');
  await maker.leaves();
});

test('of several photos shared at once the first is opened and the others wait, to be joined or looked at', async () => {
  const maker = await Maker.arrives(browser());
  await shares(maker, ['tumbler-standing-on-dark-desk', 'jar-standing-on-linen']);
  await maker.waitsForSizes();
  const first = await maker.reads('Widest');
  await maker.page.getByText('Another photo came with it. Is it the same container?').waitFor();
  await maker.page.getByRole('button', { name: 'No, look at the next one' }).click();
  // a tumbler of 95 mm, a jar of 72
  await expect.poll(async () => (await maker.reads('Widest').catch(() => first)).mm).toBeLessThan(first.mm - 10);
  await maker.page.getByText('Another photo came with it.').waitFor({ state: 'detached' });
  await maker.leaves();
});

test('a newer version waits until the maker asks for it, and the job goes on after that', async () => {
  // A copy of the page: a newer version of it must not reach the other tests.
  const folder = await mkdtemp(join(tmpdir(), 'roundwise-page-'));
  await cp(outDir, folder, { recursive: true });
  const { url, close } = await serveFolder(folder);
  const file = join(folder, 'service-worker.js');
  const maker = await Maker.in(await browser().newContext({ viewport: PHONE, locale: 'en-GB' }), url);
  try {
    await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
    await maker.waitsForSizes();
    const before = await maker.reads('Widest');

    await appendFile(file, '\n// a newer version');
    await maker.page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await maker.page.getByText('A newer Roundwise is here.', { exact: false }).waitFor();
    const isWaiting = () => maker.page.evaluate(async () => (await navigator.serviceWorker.ready).waiting !== null);
    expect(await isWaiting()).toBe(true);
    expect(await maker.reads('Widest')).toEqual(before);

    const other = await Maker.in(maker.context, url);
    await maker.page.getByRole('button', { name: 'Use it now' }).click();
    await maker.page.getByText('Close the other Roundwise tabs first', { exact: false }).waitFor();
    expect(await isWaiting()).toBe(true);
    await other.page.close();

    await Promise.all([
      maker.page.waitForEvent('load'),
      maker.page.getByRole('button', { name: 'Use it now' }).click(),
    ]);
    await maker.waitsForSizes();
    expect(await isWaiting()).toBe(false);
    expect(await maker.reads('Widest')).toEqual(before);
    await maker.leaves();
  } finally {
    await close();
    await rm(folder, { recursive: true });
  }
});
