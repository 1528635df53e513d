import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { withSecondCard } from '../support/second-card.ts';
import { sampleTruth } from '../support/truth.ts';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const NAME = 'jar-standing-on-linen';
const PHOTO = samplePhoto(NAME);

/** Everything in the page's caches whose name speaks of photos: where it lies, and how it begins. */
function laidAside(maker: Maker): Promise<{ readonly place: string; readonly start: number[] }[]> {
  return maker.page.evaluate(async () => {
    const all: { place: string; start: number[] }[] = [];
    for (const name of await caches.keys()) {
      if (!name.includes('photo')) continue;
      const cache = await caches.open(name);
      for (const place of await cache.keys()) {
        const bytes = (await (await cache.match(place))?.arrayBuffer()) ?? new ArrayBuffer(0);
        all.push({ place: place.url, start: [...new Uint8Array(bytes, 0, 2)] });
      }
    }
    return all;
  });
}

test('a second card beside is covered in what is kept, too', async () => {
  const { cornersPx, outlinePx } = await sampleTruth(NAME);
  const { data, info } = await sharp(PHOTO).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  const pixels = { widthPx: info.width, heightPx: info.height, rgba: data };
  const second = withSecondCard(pixels, cornersPx, outlinePx);
  const raw = { width: info.width, height: info.height, channels: 4 } as const;
  const photo = await sharp(second.rgba, { raw }).jpeg({ quality: 92 }).toBuffer();

  const maker = await Maker.arrives(browser());
  await maker.page.getByTestId('photo-file').setInputFiles({ name: 'p.jpg', mimeType: 'image/jpeg', buffer: photo });
  await maker.waitsForSizes();
  const picture = () =>
    maker.page.evaluate(async () => {
      const request = indexedDB.open('roundwise');
      await new Promise((resolve) => {
        request.onsuccess = resolve;
      });
      const all = request.result.transaction('picture').objectStore('picture').getAll();
      await new Promise((resolve) => {
        all.onsuccess = resolve;
      });
      request.result.close();
      const [first] = all.result;
      if (!first) return null;
      const bytes = new Uint8Array(await first.blanked.arrayBuffer());
      return btoa(bytes.reduce((text: string, byte: number) => text + String.fromCharCode(byte), ''));
    });
  await expect.poll(picture).not.toBeNull();
  const stored = await sharp(Buffer.from((await picture()) ?? '', 'base64'))
    .raw()
    .toBuffer({ resolveWithObject: true });
  const scale = stored.info.width / info.width;
  const cover = [0xd7, 0xde, 0xdb];
  for (const corners of [cornersPx, second.cornersPx]) {
    const [a, b, c, d] = corners;
    let covered = 0;
    for (let i = 0; i < 20; i += 1) {
      for (let j = 0; j < 20; j += 1) {
        const [u, w] = [(i + 0.5) / 20, (j + 0.5) / 20];
        const at = (axis: 0 | 1) =>
          Math.round(scale * ((1 - w) * ((1 - u) * a[axis] + u * b[axis]) + w * ((1 - u) * d[axis] + u * c[axis])));
        const pixel = (at(1) * stored.info.width + at(0)) * stored.info.channels;
        if (cover.every((value, k) => Math.abs(stored.data[pixel + k] - value) < 8)) covered += 1;
      }
    }
    expect(covered / 400).toBeGreaterThan(0.98);
  }
  await maker.leaves();
});

test('a photo shared by another app lies nowhere when no page comes for it', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  const base64 = readFileSync(PHOTO).toString('base64');
  await maker.page.evaluate(async (data) => {
    const form = new FormData();
    const bytes = Uint8Array.from(atob(data), (character) => character.charCodeAt(0));
    form.append('photo', new File([bytes], 'shared.jpg', { type: 'image/jpeg' }));
    await fetch('./share', { method: 'POST', body: form, redirect: 'manual' });
  }, base64);
  expect(await laidAside(maker)).toEqual([]);
  await maker.leaves();
});

test('a tab that was copied from another leaves its sealed photo alone; what closed tabs left is deleted', async () => {
  const first = await Maker.arrives(browser());
  await first.choosesPhoto(PHOTO);
  await first.waitsForSizes();
  await expect.poll(() => laidAside(first)).toHaveLength(1);
  const [own] = await laidAside(first);

  const [copy] = await Promise.all([
    first.context.waitForEvent('page'),
    first.page.evaluate(() => {
      window.open(location.href);
    }),
  ]);
  await copy.locator('main h1').first().waitFor({ state: 'attached' });
  await expect.poll(() => copy.evaluate(() => sessionStorage.getItem('roundwise-photo-key'))).toBeNull();
  expect((await laidAside(first)).map(({ place }) => place)).toContain(own.place);
  await first.page.reload();
  await first.waitsForSizes();
  expect((await laidAside(first)).map(({ place }) => place)).toContain(own.place);
  await copy.close();

  const later = await Maker.in(first.context);
  await first.page.close();
  await later.page.reload();
  await later.page.locator('main h1').first().waitFor({ state: 'attached' });
  await expect.poll(async () => (await laidAside(later)).map(({ place }) => place)).not.toContain(own.place);
  await later.leaves();
});
