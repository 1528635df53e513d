import { describe, expect, it } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import type { Measurement } from '../../../vision/measurement.ts';
import { withFindingError } from '../../../vision/model/finding-error.ts';

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

  it('adds variances: a quarter of a chance to be 7 % off is 3.5 % of every size', () => {
    const widened = withFindingError(measurement, 0.75);
    expect(widened.maxDiameterMm.sd).toBeCloseTo(Math.hypot(0.3, 3.5), 9);
    expect(widened.heightMm.sd).toBeCloseTo(Math.hypot(0.4, 7), 9);
    expect(widened.capacityMl.sd).toBeCloseTo(Math.hypot(5, Math.sqrt(5) * 35), 9);
    expect(widened.profile[0].sdMm).toBeCloseTo(Math.hypot(0.1, 1.75), 9);
  });

  it('moves no value and makes up no base that was hidden', () => {
    const widened = withFindingError(measurement, 0.5);
    expect(widened.maxDiameterMm.value).toBe(100);
    expect(widened.baseDiameterMm).toBeNull();
  });
});
