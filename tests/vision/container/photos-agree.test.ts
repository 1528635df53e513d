import { describe, expect, it } from 'vitest';
import { chanceAbove, type LogSizes, photosAgree } from '../../../vision/container/photos-agree.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const sizes = (widest: number, height: number, sd = 0.01): LogSizes => ({
  values: [widest, height],
  covariance: [sd ** 2, 0.5 * sd ** 2, sd ** 2],
});

describe('photosAgree', () => {
  it('has the upper tail of chi-squared: 5 % points of the tables (Abramowitz and Stegun, table 26.8)', () => {
    expect(chanceAbove(5.991, 2)).toBeCloseTo(0.05, 4);
    expect(chanceAbove(9.488, 4)).toBeCloseTo(0.05, 4);
    expect(chanceAbove(18.307, 10)).toBeCloseTo(0.05, 4);
  });

  it('calls one set of agreeing photos in a hundred disagreeing', () => {
    const random = seededRandom(4);
    let disagreeing = 0;
    for (let k = 0; k < 2000; k++) {
      const photos = [0, 1, 2].map(() => {
        const shared = random.normal(0.01 * Math.SQRT1_2);
        return sizes(shared + random.normal(0.01 * Math.SQRT1_2), shared + random.normal(0.01 * Math.SQRT1_2));
      });
      if (photosAgree(photos).leftOut.length > 0) disagreeing++;
    }
    expect(disagreeing / 2000).toBeGreaterThan(0.004);
    expect(disagreeing / 2000).toBeLessThan(0.018);
  });

  it('leaves out the odd ones as long as the rest is the larger part', () => {
    const agreeing = [sizes(4, 5), sizes(4.005, 5), sizes(4, 5.004)];
    expect(photosAgree([...agreeing, sizes(4.2, 5)]).leftOut).toEqual([3]);
    expect(photosAgree([...agreeing, sizes(4.2, 5), sizes(4, 4.7)]).leftOut).toEqual([3, 4]);
    expect(photosAgree([sizes(4, 5), sizes(4, 5), sizes(4.2, 5), sizes(4.2, 5)]).leftOut).toEqual([]);
  });

  it('says nothing against a single photo', () => {
    expect(photosAgree([sizes(4, 5)])).toEqual({ chiSquared: 0, degreesOfFreedom: 0, probability: 1, leftOut: [] });
  });
});
