import { describe, expect, it } from 'vitest';
import { sdOfMean } from '../../../vision/flat-piece/edge-noise.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const ones = (n: number): Float64Array => new Float64Array(n).fill(1);

describe('standard deviation of the mean of an edge', () => {
  it('is σ / √n for independent residuals', () => {
    const random = seededRandom(1);
    const residuals = Float64Array.from({ length: 4000 }, () => random.normal(0.5));
    expect(sdOfMean(residuals, ones(4000)) / (0.5 / Math.sqrt(4000))).toBeCloseTo(1, 0);
  });

  it('counts loops of ten samples as one', () => {
    const random = seededRandom(2);
    const loops = Array.from({ length: 400 }, () => random.normal(0.5));
    const residuals = Float64Array.from({ length: 4000 }, (_, i) => loops[Math.floor(i / 10)]);
    const ratio = sdOfMean(residuals, ones(4000)) / (0.5 / Math.sqrt(400));
    expect(ratio).toBeGreaterThan(0.85);
    expect(ratio).toBeLessThan(1.2);
  });

  it('knows nothing from three samples', () => {
    expect(sdOfMean(new Float64Array(3), ones(3))).toBe(Number.POSITIVE_INFINITY);
  });
});
