import { describe, expect, test } from 'vitest';
import { Maker, samplePhoto, startChromium, testFile } from './maker.ts';

const browser = startChromium();
const PHOTO = samplePhoto('tumbler-standing-on-dark-desk');

describe('a reload before anything was found', () => {
  test.each([
    ['JPEG', PHOTO],
    ['HEIC', testFile('jam-jar-standing-on-dark-desk.heic')],
  ])('goes on with the same %s photo', async (_, photo) => {
    const maker = await Maker.arrives(browser());
    await maker.choosesPhoto(photo);
    await maker.page.locator('.check__busy').waitFor();
    await maker.waitsUntilStored(/"widthPx":/);
    await expect.poll(() => startsOfSealedPhotos(maker)).toHaveLength(1);
    await maker.page.reload();
    await maker.waitsForSizes();
    expect(await maker.page.locator('.photo-canvas image').getAttribute('href')).toMatch(/^blob:/);
    await maker.unfolds('Put the drawing right');
    await maker.page.getByRole('button', { name: 'Find again' }).click();
    await maker.waitsForSizes();
    await maker.leaves();
  });

  test('leaves nothing in storage that shows the photo, and nothing at all once another job is begun', async () => {
    const maker = await Maker.arrives(browser());
    await maker.choosesPhoto(PHOTO);
    await maker.waitsForSizes();
    await expect.poll(() => startsOfSealedPhotos(maker)).toHaveLength(1);
    const [start] = await startsOfSealedPhotos(maker);
    expect(start).not.toEqual([0xff, 0xd8]);

    await maker.goesTo('Photo');
    await maker.typesTape('23 cm', '18 cm');
    await expect.poll(() => startsOfSealedPhotos(maker)).toEqual([]);
    await maker.leaves();
  });

  test('nobody but the tab itself can open the photo again', async () => {
    const maker = await Maker.arrives(browser());
    await maker.choosesPhoto(PHOTO);
    await maker.waitsForSizes();
    await maker.waitsUntilStored(/"outcome":"measured"/);
    await maker.page.close();
    const later = await Maker.in(maker.context);
    await later.goesTo('Sizes');
    await later.unfolds('Put the drawing right');
    await later.page.getByText(/cannot be searched again/).waitFor();
    await later.leaves();
  });
});

function startsOfSealedPhotos(maker: Maker): Promise<number[][]> {
  return maker.page.evaluate(async () => {
    const cache = await caches.open('working-photo');
    const photos = await Promise.all((await cache.keys()).map((place) => cache.match(place)));
    const bytes = await Promise.all(photos.map((photo) => photo?.arrayBuffer()));
    return bytes.map((each) => [...new Uint8Array(each ?? new ArrayBuffer(0), 0, 2)]);
  });
}
