import { describe, expect, it } from 'vitest';
import { focalPriorFromLens, principalPointSdPx } from '../../../vision/geometry/focal-prior.ts';

describe('focalPriorFromLens', () => {
  it('turns a 35 mm-equivalent into pixels by the diagonal: 26 mm on 4032 × 3024 is 3028.8 px', () => {
    const prior = focalPriorFromLens({ focal35Mm: 26, looksCropped: false }, 4032, 3024);
    expect(prior.focalPx).toBeCloseTo((26 * 5040) / 43.2666, 6);
    expect(prior.relativeSd).toBeLessThan(0.025);
    expect(prior.source).toBe('exif');
  });

  it('covers main and doubled lenses of phones within two sds when the file says nothing', () => {
    const { focalPx, relativeSd, source } = focalPriorFromLens({ focal35Mm: null, looksCropped: false }, 4032, 3024);
    expect(source).toBe('typical-phone');
    for (const mm of [22, 26, 28, 50]) {
      const px = (mm * 5040) / 43.2666;
      expect(Math.abs(Math.log(px / focalPx))).toBeLessThan(2 * relativeSd);
    }
  });

  it('does not believe absurd metadata', () => {
    for (const focal35Mm of [0, -3, 5000, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(focalPriorFromLens({ focal35Mm, looksCropped: false }, 4032, 3024).source).toBe('typical-phone');
    }
  });

  it('trusts focal length and image centre less in a cropped photo', () => {
    const whole = focalPriorFromLens({ focal35Mm: 26, looksCropped: false }, 4032, 3024);
    const cropped = focalPriorFromLens({ focal35Mm: 26, looksCropped: true }, 4032, 3024);
    expect(cropped.relativeSd).toBeGreaterThan(5 * whole.relativeSd);
    expect(principalPointSdPx(4032, 3024, true)).toBeGreaterThan(10 * principalPointSdPx(4032, 3024, false));
  });
});
