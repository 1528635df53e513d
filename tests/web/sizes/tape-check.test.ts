import { describe, expect, test } from 'vitest';
import type { Container } from '../../../sizing/container.ts';
import { NO_TAPE } from '../../../web/keep/tape.ts';
import { containerFromTapeAlone, tapeChecks, weightedMean, withTape } from '../../../web/sizes/tape-check.ts';

const photo: Container = {
  heightMm: { value: 200, sd: 1 },
  maxDiameterMm: { value: 72, sd: 0.6 },
  baseDiameterMm: { value: 70, sd: 0.8 },
  profile: [
    { zMm: 0, radiusMm: 35, sdMm: 0.4 },
    { zMm: 100, radiusMm: 36, sdMm: 0.3 },
    { zMm: 200, radiusMm: 36, sdMm: 0.3 },
  ],
  baseEdgeRadiusMm: null,
  shoulderZMm: { value: 150, sd: 2 },
};

describe('weighted mean of photo and tape (PDG Review, Introduction, unconstrained averaging)', () => {
  test('weighs each by 1 / sd²', () => {
    const mean = weightedMean({ value: 10, sd: 1 }, { value: 10.6, sd: 2 });
    expect(mean.value).toBeCloseTo((10 + 10.6 / 4) / 1.25, 10);
    expect(mean.sd).toBeCloseTo(Math.sqrt(1 / 1.25), 10);
  });

  test('of two equal readings is surer by the root of two', () => {
    expect(weightedMean({ value: 70, sd: 1 }, { value: 70, sd: 1 }).sd).toBeCloseTo(Math.SQRT1_2, 10);
  });

  test('is less sure by the scale factor S = sqrt(chi²) where the two lie too far apart', () => {
    const [a, b] = [
      { value: 70, sd: 1 },
      { value: 74, sd: 1 },
    ];
    const mean = weightedMean(a, b);
    const chiSquare = (70 - mean.value) ** 2 + (74 - mean.value) ** 2;
    expect(mean.sd).toBeCloseTo(Math.SQRT1_2 * Math.sqrt(chiSquare), 10);
  });
});

describe('a tape beside the photo', () => {
  test('agrees within two standard uncertainties, and disagrees beyond three', () => {
    const verdict = (acrossMm: number) =>
      tapeChecks(photo, { ...NO_TAPE, circumferenceMm: acrossMm * Math.PI })[0].verdict;
    expect(verdict(72.5)).toBe('agree');
    expect(verdict(74)).toBe('apart');
    // sds of photo and tape are 0.6 and 1.5 / π: three of their difference are 2.3 mm
    expect(verdict(74.2)).toBe('apart');
    expect(verdict(74.4)).toBe('disagree');
    expect(verdict(80)).toBe('disagree');
  });

  test('says nothing about what it was not laid to', () => {
    expect(tapeChecks(photo, { ...NO_TAPE, heightMm: 201 }).map((check) => check.size)).toEqual(['height']);
    expect(withTape(photo, NO_TAPE)).toEqual(photo);
  });

  test('around the widest place stretches the whole container alike', () => {
    const sized = withTape(photo, { ...NO_TAPE, circumferenceMm: 73 * Math.PI });
    const factor = sized.maxDiameterMm.value / photo.maxDiameterMm.value;
    expect(factor).toBeGreaterThan(1);
    expect(sized.maxDiameterMm.sd).toBeLessThan(photo.maxDiameterMm.sd * 1.5);
    expect(sized.baseDiameterMm.value).toBeCloseTo(70 * factor, 10);
    expect(sized.baseDiameterMm.sd).toBe(photo.baseDiameterMm.sd);
    for (const [index, point] of sized.profile.entries()) {
      expect(point.radiusMm).toBeCloseTo(photo.profile[index].radiusMm * factor, 10);
    }
  });

  test('beside it stretches heights alone', () => {
    const sized = withTape(photo, { ...NO_TAPE, heightMm: 204 });
    const factor = sized.heightMm.value / 200;
    expect(sized.shoulderZMm?.value).toBeCloseTo(150 * factor, 10);
    expect(sized.profile.map((point) => point.radiusMm)).toEqual([35, 36, 36]);
  });
});

describe('a container from the tape alone', () => {
  test('needs the widest place and the height', () => {
    expect(containerFromTapeAlone({ ...NO_TAPE, circumferenceMm: 220 })).toBeNull();
    const sized = containerFromTapeAlone({ ...NO_TAPE, circumferenceMm: 70 * Math.PI, heightMm: 200 });
    expect(sized?.maxDiameterMm.value).toBeCloseTo(70, 10);
    expect(sized?.baseDiameterMm.value).toBeCloseTo(70, 10);
  });

  test('is tapered when the base is narrower', () => {
    const sized = containerFromTapeAlone({
      circumferenceMm: 90 * Math.PI,
      baseCircumferenceMm: 60 * Math.PI,
      heightMm: 136,
    });
    expect(sized?.baseDiameterMm.value).toBeCloseTo(60, 10);
    expect(sized?.profile.map((point) => point.radiusMm)).toEqual([expect.closeTo(30), expect.closeTo(45)]);
  });
});
