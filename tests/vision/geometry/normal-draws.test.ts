import { describe, expect, it } from 'vitest';
import { multivariateNormal } from '../../../vision/geometry/normal-draws.ts';

const COVARIANCE = Float64Array.of(4, 1.2, 0, 1.2, 1, 0, 0, 0, 0);

describe('multivariateNormal', () => {
  const draws = multivariateNormal(Float64Array.of(10, -2, 7), COVARIANCE, 20_000, 1);
  const means = [0, 1, 2].map((i) => draws.reduce((sum, draw) => sum + draw[i], 0) / draws.length);
  const covariance = (i: number, j: number) =>
    draws.reduce((sum, draw) => sum + (draw[i] - means[i]) * (draw[j] - means[j]), 0) / (draws.length - 1);

  it('has the mean and the covariance asked for', () => {
    expect(means[0]).toBeCloseTo(10, 1);
    expect(means[1]).toBeCloseTo(-2, 1);
    expect(covariance(0, 0) / 4).toBeCloseTo(1, 1);
    expect(covariance(0, 1) / 1.2).toBeCloseTo(1, 1);
    expect(covariance(1, 1)).toBeCloseTo(1, 1);
  });

  it('keeps what is certain at its mean', () => {
    expect(draws.every((draw) => draw[2] === 7)).toBe(true);
  });

  it('repeats itself from one run to the next, and not from one seed to another', () => {
    const again = (seed: number) => multivariateNormal(Float64Array.of(0, 0, 0), COVARIANCE, 3, seed);
    expect(again(4)).toEqual(again(4));
    expect(again(4)).not.toEqual(again(5));
  });
});
