import { describe, expect, it } from 'vitest';
import { withFullRange } from '../../../vision/picture/full-range.ts';
import type { Photo } from '../../../vision/picture/photo.ts';

/** Grey levels from `from` to `to`, evenly spread over the picture. */
function greys(from: number, to: number): Photo {
  const [widthPx, heightPx] = [100, 100];
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let i = 0; i < rgba.length; i += 4) {
    const level = Math.round(from + ((to - from) * i) / rgba.length);
    rgba.set([level, level, level, 255], i);
  }
  return { widthPx, heightPx, rgba, lens: { focal35Mm: null, looksCropped: false } };
}

const span = ({ rgba }: Photo) => [rgba[0], rgba[rgba.length - 4]];

describe('withFullRange', () => {
  it('leaves a well exposed photo alone', () => {
    const photo = greys(20, 220);
    expect(withFullRange(photo)).toBe(photo);
  });

  it.each([
    ['an underexposed', greys(5, 85)],
    ['a pale', greys(120, 200)],
  ])('spreads the levels of %s photo', (_, photo) => {
    const [dark, bright] = span(withFullRange(photo));
    expect(dark).toBeLessThan(20);
    expect(bright).toBeGreaterThan(215);
  });

  it('does not blow up the grain of a black picture without limit, nor touch the picture it was given', () => {
    const photo = greys(4, 10);
    const [dark, bright] = span(withFullRange(photo));
    expect(bright - dark).toBeLessThan(25);
    expect(span(photo)).toEqual([4, 10]);
  });
});
