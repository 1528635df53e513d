import { describe, expect, it } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { withLensOfContent } from '../../../vision/picture/screen-bars.ts';

/** A picture of 300 × 400 with grey bars that a JPEG has been at. */
function screenshot(above: number, below: number, beside = 0): Photo {
  const [wide, high] = [300, 400];
  const [widthPx, heightPx] = [wide + 2 * beside, high + above + below];
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx).fill(255);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const isShown = y >= above && y < above + high && x >= beside && x < beside + wide;
      const level = isShown ? (37 * x + 91 * y) % 256 : 30 + ((x + y) % 4);
      rgba.fill(level, 4 * (y * widthPx + x), 4 * (y * widthPx + x) + 3);
    }
  }
  return { widthPx, heightPx, rgba, lens: { focal35Mm: null, looksCropped: true } };
}

describe('withLensOfContent', () => {
  it('takes the lens for that of the picture between the bars', () => {
    for (const photo of [screenshot(120, 121), screenshot(0, 0, 90)]) {
      const { lens } = withLensOfContent(photo);
      expect(lens.looksCropped).toBe(false);
      expect(lens.frameDiagonalPx).toBeCloseTo(500, 0);
      const alone = focalPriorFromLens({ focal35Mm: null, looksCropped: false }, 300, 400);
      expect(focalPriorFromLens(lens, photo.widthPx, photo.heightPx).focalPx / alone.focalPx).toBeCloseTo(1, 2);
    }
  });

  it('leaves a photo alone that has no bars, or whose picture is not in the middle', () => {
    for (const photo of [screenshot(0, 0), screenshot(150, 60)]) expect(withLensOfContent(photo)).toBe(photo);
  });

  it('leaves a picture of one colour alone', () => {
    const rgba = new Uint8ClampedArray(4 * 60 * 80).fill(200);
    const plain: Photo = { widthPx: 60, heightPx: 80, rgba, lens: { focal35Mm: 26, looksCropped: false } };
    expect(withLensOfContent(plain)).toBe(plain);
  });
});
