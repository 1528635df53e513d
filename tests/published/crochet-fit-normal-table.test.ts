import { describe, expect, it } from 'vitest';
import { normalBelow } from '../../sizing/forecast/normal-distribution.ts';

describe('normal distribution (Abramowitz and Stegun, table 26.1)', () => {
  it.each([
    [0, 0.5],
    [0.5, 0.6914624613],
    [1, 0.8413447461],
    [1.5, 0.9331927987],
    [2, 0.9772498681],
    [3, 0.998650102],
  ])('P(%f) = %f', (z, probability) => {
    expect(Math.abs(normalBelow(z) - probability)).toBeLessThan(2e-7);
    expect(Math.abs(normalBelow(-z) - (1 - probability))).toBeLessThan(2e-7);
  });
});
