import { readFileSync } from 'node:fs';
import sharp from 'sharp';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { mutate, seedFiles } from '../support/mutated-files.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { sampleTruth } from '../support/truth.ts';
import { Maker, samplePhoto, startChromium, testFile } from './maker.ts';

const browser = startChromium();
const PHOTO = 'jam-jar-standing-on-dark-desk';

/** Corners of the card on screen, as shares of the photo's width and height, in any order. */
async function cardOnScreen(maker: Maker): Promise<(readonly [number, number])[]> {
  await maker.page.locator('.drawing__card').waitFor();
  return maker.page.evaluate(() => {
    const image = document.querySelector('.photo-canvas image');
    const [width, height] = ['width', 'height'].map((side) => Number(image?.getAttribute(side)));
    const points = document.querySelector('.drawing__card')?.getAttribute('points') ?? '';
    return points.split(' ').map((point) => {
      const [x, y] = point.split(',').map(Number);
      return [x / width, y / height] as const;
    });
  });
}

function farthestApart(found: readonly (readonly [number, number])[], truth: readonly (readonly [number, number])[]) {
  const distances = truth.map(([x, y]) => Math.min(...found.map(([fx, fy]) => Math.hypot(fx - x, fy - y))));
  return Math.max(...distances);
}

const trueCard = (await sampleTruth(PHOTO)).cornersPx.map(([x, y]) => [x / 1512, y / 2016] as const);
/** Re-encoding and resizing move an edge by less than 3 px of 1512. */
const SAME_PLACE = 3 / 1512;

describe('photos a maker may have', () => {
  let maker: Maker;
  beforeAll(async () => {
    maker = await Maker.arrives(browser());
  });
  afterAll(() => maker.leaves());
  const choose = (name: string, buffer: Buffer) =>
    maker.page.getByTestId('photo-file').setInputFiles({ name, mimeType: 'image/jpeg', buffer });

  beforeEach(() => maker.open());

  test.each(['png', 'webp', 'avif'] as const)('%s opens like the JPEG it was made from', async (format) => {
    await choose(
      `p.${format}`,
      await sharp(samplePhoto(PHOTO)).resize(1008).toFormat(format, { quality: 80 }).toBuffer(),
    );
    expect(farthestApart(await cardOnScreen(maker), trueCard)).toBeLessThan(SAME_PLACE);
  });

  // files/*.heic: the sample of that name at 1008 px, encoded with libheif's heif-enc.
  test('HEIC, which this browser cannot show, is decoded in the page', async () => {
    await maker.choosesPhoto(testFile(`${PHOTO}.heic`));
    expect(farthestApart(await cardOnScreen(maker), trueCard)).toBeLessThan(SAME_PLACE);
  });

  test.each([
    [3, 180],
    [6, 270],
    [8, 90],
  ])('a photo stored turned (EXIF orientation %i) stands upright', async (orientation, turnedBy) => {
    const small = await sharp(samplePhoto(PHOTO)).resize(1008).toBuffer();
    await choose('p.jpg', await sharp(small).rotate(turnedBy).withMetadata({ orientation }).jpeg().toBuffer());
    expect(farthestApart(await cardOnScreen(maker), trueCard)).toBeLessThan(SAME_PLACE);
  });

  test('a 100-megapixel photo is measured', async () => {
    const large = sharp(samplePhoto(PHOTO)).resize(8660, 11547, { kernel: 'linear' });
    await choose('p.jpg', await large.jpeg({ quality: 60 }).toBuffer());
    expect(farthestApart(await cardOnScreen(maker), trueCard)).toBeLessThan(SAME_PLACE);
  });

  test.each(['drop', 'paste'] as const)('a photo can arrive by %s', async (way) => {
    const base64 = readFileSync(samplePhoto(PHOTO)).toString('base64');
    await maker.page.evaluate(
      ([data, kind]) => {
        const bytes = Uint8Array.from(atob(data), (character) => character.charCodeAt(0));
        const transfer = new DataTransfer();
        transfer.items.add(new File([bytes], 'p.jpg', { type: 'image/jpeg' }));
        const event =
          kind === 'drop'
            ? new DragEvent('drop', { dataTransfer: transfer, bubbles: true, cancelable: true })
            : new ClipboardEvent('paste', { clipboardData: transfer, bubbles: true });
        document.querySelector('.photo-step')?.dispatchEvent(event);
      },
      [base64, way] as const,
    );
    expect(await cardOnScreen(maker)).toHaveLength(4);
  });
});

test('files that are no photo get a sentence each, and the next photo works', async () => {
  const jpeg = readFileSync(samplePhoto(PHOTO));
  /** A PNG header that claims 60,000 × 60,000 pixels. */
  const bomb = Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]),
    Buffer.from('IHDR'),
    Buffer.from([0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60, 8, 6, 0, 0, 0, 0, 0, 0, 0]),
  ]);
  const heicWithoutPicture = [Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic0000mif1heic'), Buffer.alloc(80)];
  const maker = await Maker.arrives(browser());
  for (const [buffer, sentence] of [
    [Buffer.from('Dear harbour master, the kettle is missing.'), /not a photo/],
    [Buffer.alloc(0), /damaged/],
    [Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>'), /not a photo/],
    [jpeg.subarray(0, 300), /damaged/],
    [bomb, /larger than 130/],
    [Buffer.concat(heicWithoutPicture), /damaged/],
  ] as const) {
    await maker.page.getByTestId('photo-file').setInputFiles({ name: 'x.jpg', mimeType: 'image/jpeg', buffer });
    await maker.page.getByRole('alert').filter({ hasText: sentence }).waitFor();
  }
  await maker.choosesPhoto(samplePhoto(PHOTO));
  expect(await cardOnScreen(maker)).toHaveLength(4);
  await maker.leaves();
});

test('whatever damaged or hostile picture comes, the page answers and goes on', async () => {
  const seeds = await seedFiles();
  const damaged = Array.from({ length: 12 }, (_, k) => mutate(seeds[k % seeds.length].bytes, seededRandom(k)));
  const context = await browser().newContext({ locale: 'en-GB' });
  // nothing is kept, so that every file begins on an empty page
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
  });
  const maker = await Maker.in(context);
  for (const bytes of [...seeds.map(({ bytes }) => bytes), ...damaged]) {
    await maker.page.getByTestId('photo-file').setInputFiles({ name: 'x', mimeType: '', buffer: Buffer.from(bytes) });
    const answer = maker.page.locator('.photo-step [role=alert], .check .note, .numbers');
    await answer.first().waitFor();
    await maker.open();
    await maker.page.reload();
  }
  await maker.leaves();
});
