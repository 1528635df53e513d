import { describe, expect, it } from 'vitest';
import { cardCornersMm } from '../../vision/geometry/card-pose.ts';
import { ID1_CARD, REFERENCES } from '../../vision/reference/reference.ts';

/** ISO/IEC 7810:2019, format ID-1: nominal sizes; the least and largest of an unused card are from memory. */
const NOMINAL = { widthMm: 85.6, heightMm: 53.98, thicknessMm: 0.76, cornerRadiusMm: 3.18 };
const LIMITS_MM = { width: [85.47, 85.72], height: [53.92, 54.03] } as const;

describe('ISO/IEC 7810', () => {
  it('the bank card is format ID-1, and the model works with its nominal sizes', () => {
    expect(ID1_CARD).toMatchObject(NOMINAL);
    const corners = cardCornersMm(ID1_CARD, 0);
    const spread = (axis: 0 | 1) => Math.max(...corners.map((c) => c[axis])) - Math.min(...corners.map((c) => c[axis]));
    expect(spread(0)).toBeCloseTo(NOMINAL.widthMm, 9);
    expect(spread(1)).toBeCloseTo(NOMINAL.heightMm, 9);
  });

  it.each([
    ['ID-2', 105, 74],
    ['ID-3', 125, 88],
  ])('%s is %f × %f mm', (name, widthMm, heightMm) => {
    expect(REFERENCES.find((reference) => reference.name === name)).toMatchObject({ widthMm, heightMm });
  });

  it('the uncertainty assumed of a card spans what the standard allows of an unused one, and not twice that', () => {
    // a rectangular distribution of sd s spans ± s√3
    const span = ID1_CARD.relativeSd * Math.sqrt(3);
    for (const [nominal, [least, most]] of [
      [NOMINAL.widthMm, LIMITS_MM.width],
      [NOMINAL.heightMm, LIMITS_MM.height],
    ] as const) {
      const allowed = Math.max(nominal - least, most - nominal) / nominal;
      expect(span).toBeGreaterThan(0.95 * allowed);
      expect(span).toBeLessThan(2 * allowed);
    }
  });
});
