import { describe, expect, test } from 'vitest';
import { areApart } from '../../../web/flat-piece/counts-apart.ts';

describe('what a counted piece says against what was typed before', () => {
  test('is asked about beyond three standard uncertainties of their difference', () => {
    // sqrt(0.3^2 + 0.4^2) = 0.5.
    const believed = { value: 6, sd: 0.4 };
    expect(areApart({ value: 7.49, sd: 0.3 }, believed)).toBe(false);
    expect(areApart({ value: 7.51, sd: 0.3 }, believed)).toBe(true);
    expect(areApart({ value: 4.49, sd: 0.3 }, believed)).toBe(true);
  });

  test('counts of another piece, a gauge wrong by a factor 2.4, are asked about', () => {
    expect(areApart({ value: 2.6, sd: 0.1 }, { value: 6.25, sd: 0.2 })).toBe(true);
  });
});
