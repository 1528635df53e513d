import { describe, expect, it } from 'vitest';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { shareWithin } from '../../../vision/geometry/polygon.ts';

describe('shareWithin', () => {
  const outline = [
    [100, 100],
    [300, 100],
    [300, 500],
    [100, 500],
  ] as const;
  const cardAt = (xPx: number): CornersPx => [
    [xPx, 250],
    [xPx + 160, 250],
    [xPx + 160, 350],
    [xPx, 350],
  ];

  it('is the share of the card within the outline: nought beside it, one inside, half across its edge', () => {
    expect(shareWithin(cardAt(320), outline)).toBe(0);
    expect(shareWithin(cardAt(120), outline)).toBe(1);
    expect(shareWithin(cardAt(220), outline)).toBe(0.5);
  });
});
