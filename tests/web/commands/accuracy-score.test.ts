import { describe, expect, it } from 'vitest';
import type { CornersPx, ImagePoint } from '../../../vision/frames.ts';
import { cornerErrorPct, overlap, quantile } from '../../../web/commands/accuracy-score.ts';

const square = (left: number, top: number, side: number): ImagePoint[] => [
  [left, top],
  [left + side, top],
  [left + side, top + side],
  [left, top + side],
];

describe('quantile', () => {
  it('interpolates between order statistics: the median of 1, 2, 3, 10 is 2.5', () => {
    expect(quantile([10, 2, 3, 1], 0.5)).toBe(2.5);
    expect(quantile([10, 2, 3, 1], 1)).toBe(10);
  });

  it('knows nothing about an empty list', () => {
    expect(quantile([], 0.5)).toBeNull();
  });
});

describe('overlap', () => {
  it('is 1 for the same polygon and 0 for polygons apart', () => {
    expect(overlap(square(0, 0, 10), square(0, 0, 10))).toBeCloseTo(1, 9);
    expect(overlap(square(0, 0, 10), square(20, 0, 10))).toBe(0);
  });

  it('is 1/3 for two squares that share half of each', () => {
    expect(overlap(square(0, 0, 10), square(5, 0, 10))).toBeCloseTo(1 / 3, 9);
  });
});

describe('cornerErrorPct', () => {
  const truth = square(0, 0, 100) as unknown as CornersPx;

  it('is the mean corner distance over the long side: 1 px on 100 px is 1 %', () => {
    const found = truth.map(([x, y]) => [x + 1, y]) as unknown as CornersPx;
    expect(cornerErrorPct(found, truth)).toBeCloseTo(1, 9);
  });

  it('does not care which corner comes first', () => {
    const turned = [truth[2], truth[3], truth[0], truth[1]] as CornersPx;
    expect(cornerErrorPct(turned, truth)).toBe(0);
  });
});
