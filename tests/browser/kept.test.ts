import { buffer } from 'node:stream/consumers';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { sampleTruth } from '../support/truth.ts';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const PHOTO = 'steel-flask-standing-on-white-desk';
/** Saved anew, with a place in its metadata, it is still measured. */
const WITH_GPS = 'jar-standing-on-linen';

describe('a reload in the middle of a job', () => {
  test('loses nothing, and what was placed can still be moved', async () => {
    const maker = await Maker.arrives(browser());
    // Known to a millimetre, so that a moved corner shows in the number.
    await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
    await maker.waitsForSizes();
    const before = await maker.reads('Widest');
    await maker.waitsUntilStored(/"outcome":"measured"/);
    await maker.page.reload();
    await maker.waitsForSizes();
    expect(await maker.reads('Widest')).toEqual(before);
    expect(await maker.page.locator('.photo-canvas image').getAttribute('href')).toMatch(/^blob:/);

    const corner = maker.page.getByRole('button', { name: 'Card corner, top left' });
    await corner.focus();
    for (let k = 0; k < 3; k += 1) await corner.press('Shift+ArrowLeft');
    await expect.poll(async () => (await maker.reads('Widest')).mm).not.toBe(before.mm);
    await maker.leaves();
  });
});

test('rounds ticked off stay ticked over a reload', async () => {
  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.waitsForSizes();
  await maker.goesTo('Plan');
  const rounds = maker.page.getByRole('checkbox', { name: /round/i });
  await rounds.nth(0).check();
  await rounds.nth(1).check();
  await maker.waitsUntilStored(/"roundsDone":2/);
  await maker.page.reload();
  await rounds.nth(0).waitFor();
  expect(await rounds.nth(1).isChecked()).toBe(true);
  expect(await rounds.nth(2).isChecked()).toBe(false);
  await maker.leaves();
});

describe('what is kept', () => {
  test('goes through a file and comes back after everything was wiped', async () => {
    const maker = await Maker.arrives(browser());
    await maker.keepsContainer(samplePhoto(PHOTO), 'flask of the ferry pilot');
    await maker.visits('What I kept');
    const [download] = await Promise.all([
      maker.page.waitForEvent('download'),
      maker.page.getByRole('button', { name: 'Save everything to a file' }).click(),
    ]);
    const file = await buffer(await download.createReadStream());

    await maker.page.getByRole('button', { name: 'Delete: flask of the ferry pilot' }).click();
    await maker.page.getByRole('button', { name: 'Delete it' }).click();
    await maker.page.getByText(/Nothing on the shelf yet/).waitFor();
    await maker.page
      .getByTestId('kept-file')
      .setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: file });
    await maker.page.getByText('One entry brought in.').waitFor();
    await maker.page.getByRole('button', { name: 'Open: flask of the ferry pilot' }).click();
    await maker.page.locator('.numbers').waitFor();
    await maker.leaves();
  });

  test('is deleted only when asked twice, and deleting can be undone', async () => {
    const maker = await Maker.arrives(browser());
    await maker.keepsContainer(samplePhoto(PHOTO), 'tin');
    await maker.visits('What I kept');
    await maker.page.getByRole('button', { name: 'Delete: tin' }).click();
    await maker.page.getByRole('button', { name: 'Keep it' }).click();
    await maker.page.getByRole('button', { name: 'Delete: tin' }).click();
    await maker.page.getByRole('button', { name: 'Delete it' }).click();
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await maker.page.getByRole('button', { name: 'Open: tin' }).waitFor();
    await maker.leaves();
  });

  test('shows no card face and tells no place: every stored picture is blanked and without metadata', async () => {
    const maker = await Maker.arrives(browser());
    // A photo with GPS in it, and a card with print on its face.
    const withGps = await sharp(samplePhoto(WITH_GPS))
      .withExif({ IFD0: { Make: 'Harbour' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '54/1 19/1 0/1' } })
      .toBuffer();
    await maker.page
      .getByTestId('photo-file')
      .setInputFiles({ name: 'p.jpg', mimeType: 'image/jpeg', buffer: withGps });
    await maker.waitsForSizes();
    await maker.unfolds('Name it');
    await maker.page.getByText(/Kept on this device as/).waitFor();
    await expect.poll(async () => (await storedPictures(maker)).length).toBe(2);
    const pictures = await storedPictures(maker);
    for (const picture of pictures) await expectBlanked(Buffer.from(picture, 'base64'));
    await maker.leaves();
  });
});

test('two tabs work side by side: each its own job, kept things seen by both', async () => {
  const first = await Maker.arrives(browser());
  await first.keepsContainer(samplePhoto(PHOTO), 'first tab');
  const second = await Maker.in(first.context);
  await second.page.locator('.shell__steps').waitFor({ state: 'detached' });
  await second.visits('What I kept');
  await second.page.getByRole('button', { name: 'Open: first tab' }).waitFor();
  await first.names('renamed in the first tab');
  await second.page.getByRole('button', { name: 'Open: renamed in the first tab' }).waitFor();
  await first.leaves();
});

/** Every picture in the browser's storage, in base64. */
function storedPictures(maker: Maker): Promise<string[]> {
  return maker.page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open('roundwise');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const all: string[] = [];
    for (const name of ['picture', 'session']) {
      const rows = await new Promise<Record<string, unknown>[]>((resolve) => {
        const request = database.transaction(name).objectStore(name).getAll();
        request.onsuccess = () => resolve(request.result);
      });
      for (const value of rows.flatMap((row) => Object.values(row))) {
        if (!(value instanceof Blob)) continue;
        const bytes = new Uint8Array(await value.arrayBuffer());
        all.push(btoa(bytes.reduce((text, byte) => text + String.fromCharCode(byte), '')));
      }
    }
    database.close();
    return all;
  });
}

/** One flat colour over the whole card, and nothing in the file but the picture. */
async function expectBlanked(jpeg: Buffer): Promise<void> {
  const { exif, xmp, iptc, width = 0 } = await sharp(jpeg).metadata();
  expect({ exif, xmp, iptc }).toEqual({ exif: undefined, xmp: undefined, iptc: undefined });
  expect(jpeg.includes('Harbour')).toBe(false);
  const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
  const scale = width / 2016;
  const [a, b, c, d] = (await sampleTruth(WITH_GPS)).cornersPx;
  for (let i = 1; i < 10; i += 1) {
    for (let j = 1; j < 10; j += 1) {
      const [u, w] = [i / 10, j / 10];
      const at = (axis: number) =>
        Math.round(scale * ((1 - w) * ((1 - u) * a[axis] + u * b[axis]) + w * ((1 - u) * d[axis] + u * c[axis])));
      const pixel = (at(1) * info.width + at(0)) * info.channels;
      const cover = [0xd7, 0xde, 0xdb];
      for (let k = 0; k < 3; k += 1) expect(Math.abs(data[pixel + k] - cover[k])).toBeLessThan(6);
    }
  }
}
