import { describe, expect, it } from 'vitest';
import { chosenShape } from '../../../vision/outline/mask-shape.ts';

/** Two pieces in a mask of 8 × 4 cells of 10 px: a large one on the left, a small one on the right. */
const mask = {
  widthCells: 8,
  heightCells: 4,
  probability: Float32Array.from('11100000111000101110000000000000', Number),
  originPx: [5, 5],
  pxPerCell: [10, 10],
} as const;

describe('chosenShape', () => {
  it('is the largest piece when nothing is tapped', () => {
    expect(chosenShape(mask, undefined)?.boxPx).toEqual([0, 0, 30, 30]);
  });

  it('is the piece that was tapped, however small', () => {
    expect(chosenShape(mask, [65, 15])?.boxPx).toEqual([60, 10, 70, 20]);
  });

  it('is the piece beside the tap, whose border is only known to a cell', () => {
    expect(chosenShape(mask, [34, 12])?.boxPx).toEqual([0, 0, 30, 30]);
  });

  it('is none of them when the tap was elsewhere: what was tapped is not what the mask shows', () => {
    expect(chosenShape(mask, [45, 35])).toBeNull();
  });
});
