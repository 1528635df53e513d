import { describe, expect, it } from 'vitest';
import { findingRelativeSd, qualityOfError, withFindingError } from '../../../vision/container/finding-error.ts';
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
    expect(withFindingError(measurement, 1)).toEqual(measurement);
  });

  it('adds variances: a quarter of a chance to be 12 % off is 6 % of every size', () => {
    const widened = withFindingError(measurement, 0.75);
    expect(widened.maxDiameterMm.sd).toBeCloseTo(Math.hypot(0.3, 6), 9);
    expect(widened.heightMm.sd).toBeCloseTo(Math.hypot(0.4, 12), 9);
    expect(widened.capacityMl.sd).toBeCloseTo(Math.hypot(5, Math.sqrt(5) * 60), 9);
    expect(widened.profile[0].sdMm).toBeCloseTo(Math.hypot(0.1, 3), 9);
  });

  it('moves no value and makes up no base that was hidden', () => {
    const widened = withFindingError(measurement, 0.5);
    expect(widened.maxDiameterMm.value).toBe(100);
    expect(widened.baseDiameterMm).toBeNull();
  });

  it('turns an expected error into a quality and back', () => {
    expect(findingRelativeSd(qualityOfError(0.03))).toBeCloseTo(0.03, 12);
    expect(qualityOfError(0.5)).toBe(0);
  });
});
