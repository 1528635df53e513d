import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { VARIANT_NAMES, writeVariant } from '../../../web/commands/photo-variants.ts';
import { readTruth } from '../../../web/commands/truth.ts';

const NAME = 'tumbler-standing-on-dark-desk';
const ORIGINAL = `sample-images/${NAME}.jpg`;

describe('variants of a photo', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'variants-'));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  async function variant(name: string) {
    const target = join(folder, name.replaceAll(' ', '-'));
    await writeVariant(name, [ORIGINAL], target);
    const path = join(target, `${NAME}.jpg`);
    const [photo, truth] = [await decodePhotoFile(path), await readTruth(path)];
    if (!photo || !truth?.cornersPx) throw new Error(`${name} was not written whole`);
    return { photo, corners: truth.cornersPx, truth };
  }

  it('are ten or more', () => {
    expect(new Set(VARIANT_NAMES).size).toBeGreaterThanOrEqual(10);
  });

  it('keep size, lens and truth where only the light changes', async () => {
    const [same, dark] = [await variant('as it is'), await variant('underexposed')];
    const original = await decodePhotoFile(ORIGINAL);
    expect(same.photo.lens).toEqual(original?.lens);
    expect([dark.photo.widthPx, dark.photo.heightPx]).toEqual([original?.widthPx, original?.heightPx]);
    expect(dark.corners).toEqual((await readTruth(ORIGINAL))?.cornersPx);
  });

  it('move the card with the picture when it is mirrored, shrunk or cropped', async () => {
    const original = await variant('as it is');
    const xs = (corners: typeof original.corners) => corners.map(([x]) => x).sort((a, b) => a - b);
    const width = original.photo.widthPx;
    const mirrored = await variant('mirrored');
    expect(xs(mirrored.corners)[0]).toBeCloseTo(width - 1 - xs(original.corners)[3], 6);
    const smaller = await variant('smaller');
    expect(smaller.photo.widthPx / width).toBeCloseTo(0.6, 2);
    expect((xs(smaller.corners)[0] + 0.5) / (xs(original.corners)[0] + 0.5)).toBeCloseTo(0.6, 6);
    const cropped = await variant('cropped');
    expect(xs(original.corners)[0] - xs(cropped.corners)[0]).toBe(width - cropped.photo.widthPx);
    expect(cropped.photo.lens.focal35Mm).toBeNull();
  });

  it('turn the card with the picture: after 90° its x is what its distance from the bottom was', async () => {
    const original = await variant('as it is');
    const { widthPx, heightPx } = original.photo;
    const sorted = (values: readonly number[]) => [...values].sort((a, b) => a - b);
    const turned = await variant('turned by 90°');
    expect([turned.photo.widthPx, turned.photo.heightPx]).toEqual([heightPx, widthPx]);
    expect(turned.photo.lens).toEqual(original.photo.lens);
    const fromBottom = sorted(original.corners.map(([, y]) => heightPx - 1 - y));
    sorted(turned.corners.map(([x]) => x)).forEach((x, k) => void expect(x).toBeCloseTo(fromBottom[k], 6));
    const half = await variant('turned by 180°');
    expect(sorted(half.corners.map(([x]) => x))[0]).toBeCloseTo(widthPx - 1 - xsOf(original.corners)[3], 6);
  });

  it('say nothing of the lens once resaved, and put bars about a picture on a screen', async () => {
    const original = await variant('as it is');
    const resaved = await variant('resaved at 1280 px');
    expect(Math.max(resaved.photo.widthPx, resaved.photo.heightPx)).toBe(1280);
    expect(resaved.photo.lens.focal35Mm).toBeNull();
    const screen = await variant('screenshot');
    expect([screen.photo.widthPx, screen.photo.heightPx]).toEqual([1080, 2340]);
    const scale = 1080 / original.photo.widthPx;
    expect(xsOf(screen.corners)[0]).toBeCloseTo(scale * (xsOf(original.corners)[0] + 0.5) - 0.5, 0);
    const bar = screen.photo.rgba.subarray(0, 4);
    expect(Math.max(...bar.subarray(0, 3))).toBeLessThan(40);
  });

  const xsOf = (corners: readonly (readonly [number, number])[]) => corners.map(([x]) => x).sort((a, b) => a - b);

  it('are the same pixels every time', async () => {
    const first = await readFileOf('noisy');
    expect(Buffer.compare(first, await readFileOf('noisy'))).toBe(0);
  });

  async function readFileOf(name: string): Promise<Buffer> {
    await variant(name);
    return readFile(join(folder, name.replaceAll(' ', '-'), `${NAME}.jpg`));
  }
});
