import { describe, expect, it } from 'vitest';
import { evenly, isMeasurement, together, withFindingError } from '../../../vision/container/finding-error.ts';
import { estimate } from '../../../vision/estimate.ts';
import type { Measurement } from '../../../vision/measurement.ts';

const measurement = {
  baseDiameterMm: null,
  maxDiameterMm: estimate(100, 0.3),
  heightMm: estimate(200, 0.4),
  capacityMl: estimate(1000, 5),
  profile: [{ zMm: 0, radiusMm: 50, sdMm: 0.1 }],
} as unknown as Measurement;

describe('withFindingError', () => {
  it('leaves the error bars of an outline that is surely right alone', () => {
    expect(withFindingError(measurement, evenly(0))).toEqual(measurement);
  });

  it('adds variances: 6 % of every length, √5 times that of the volume', () => {
    const widened = withFindingError(measurement, evenly(0.06));
    expect(widened.maxDiameterMm.sd).toBeCloseTo(Math.hypot(0.3, 6), 9);
    expect(widened.heightMm.sd).toBeCloseTo(Math.hypot(0.4, 12), 9);
    expect(widened.capacityMl.sd).toBeCloseTo(Math.hypot(5, Math.sqrt(5) * 60), 9);
    expect(widened.profile[0].sdMm).toBeCloseTo(Math.hypot(0.1, 3), 9);
  });

  it('widens each size by its own: a base that is hard to see leaves the widest diameter alone', () => {
    const seen = {
      ...measurement,
      baseDiameterMm: estimate(60, 0.3),
      profile: [0, 60, 70].map((zMm) => ({ zMm, radiusMm: 50, sdMm: 0 })),
    };
    const widened = withFindingError(seen, { maxDiameterMm: 0.01, heightMm: 0.02, baseDiameterMm: 0.1 });
    expect(widened.maxDiameterMm.sd).toBeCloseTo(Math.hypot(0.3, 1), 9);
    expect(widened.heightMm.sd).toBeCloseTo(Math.hypot(0.4, 4), 9);
    expect(widened.baseDiameterMm?.sd).toBeCloseTo(Math.hypot(0.3, 6), 9);
    expect(widened.capacityMl.sd).toBeCloseTo(Math.hypot(5, 1000 * Math.hypot(0.02, 0.02)), 9);
    // the lowest third goes with the base
    expect(widened.profile.map(({ sdMm }) => Number(sdMm.toFixed(6)))).toEqual([5, 5, 0.5]);
  });

  it('moves no value and makes up no base that was hidden', () => {
    const widened = withFindingError(measurement, evenly(0.085));
    expect(widened.maxDiameterMm.value).toBe(100);
    expect(widened.baseDiameterMm).toBeNull();
  });

  it('cuts no uncertainty off, however large', () => {
    expect(withFindingError(measurement, evenly(0.143)).maxDiameterMm.sd).toBeCloseTo(Math.hypot(0.3, 14.3), 9);
  });
});

describe('together', () => {
  it('adds variances size by size', () => {
    const both = together({ maxDiameterMm: 0.03, heightMm: 0, baseDiameterMm: 0.1 }, evenly(0.04));
    expect(both.maxDiameterMm).toBeCloseTo(0.05, 9);
    expect(both.heightMm).toBeCloseTo(0.04, 9);
  });
});

describe('isMeasurement', () => {
  it('is an interval that stays within ± 30 % and away from nought', () => {
    expect(isMeasurement(measurement)).toBe(true);
    expect(isMeasurement(withFindingError(measurement, evenly(0.15)))).toBe(true);
    expect(isMeasurement(withFindingError(measurement, evenly(0.156)))).toBe(false);
    expect(isMeasurement({ ...measurement, heightMm: estimate(200, 17_000) })).toBe(false);
    expect(isMeasurement({ ...measurement, maxDiameterMm: { value: 60, sd: 20, low95: -2, high95: 70 } })).toBe(false);
    expect(isMeasurement({ ...measurement, maxDiameterMm: estimate(Number.NaN, 1) })).toBe(false);
  });
});
