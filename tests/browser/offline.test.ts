import { expect, test } from 'vitest';
import { Maker, samplePhoto, startChromium } from './maker.ts';

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

test('a photo shared from another app is opened', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  const response = await fetch(new URL('samples/tumbler-standing-on-dark-desk.jpg', maker.page.url()));
  const photo = Buffer.from(await response.arrayBuffer()).toString('base64');
  await maker.page.evaluate(async (data) => {
    // What the system's share sheet does: a form sent to the address in the manifest.
    const form = document.createElement('form');
    form.method = 'post';
    form.enctype = 'multipart/form-data';
    form.action = './share';
    const input = document.createElement('input');
    input.type = 'file';
    input.name = 'photo';
    const transfer = new DataTransfer();
    const bytes = Uint8Array.from(atob(data), (character) => character.charCodeAt(0));
    transfer.items.add(new File([bytes], 'shared.jpg', { type: 'image/jpeg' }));
    input.files = transfer.files;
    form.append(input);
    document.body.append(form);
    form.submit();
  }, photo);
  await maker.waitsForSizes();
  expect(new URL(maker.page.url()).search).toBe('');
  await maker.leaves();
});
