import { expect, test } from 'vitest';
import { colourShares } from '../../../vision/picture/colour-shares.ts';

test('one colour seen spreads to its neighbours along every axis, a quarter each way', () => {
  const counts = new Float32Array(3 * 4);
  counts[1 + 3 * 1] = 8;
  const shares = colourShares(counts, [3, 4]);
  const row = (y: number) => [...shares.subarray(3 * y, 3 * y + 3)];
  expect(row(0)).toEqual([0.0625, 0.125, 0.0625]);
  expect(row(1)).toEqual([0.125, 0.25, 0.125]);
  expect(row(3)).toEqual([0, 0, 0]);
});

test('nothing is lost over the border, and the shares add up to one', () => {
  const shares = colourShares(Float32Array.of(3, 0, 0, 0, 0, 0, 0, 1), [2, 2, 2]);
  expect(shares.reduce((sum, share) => sum + share)).toBeCloseTo(1, 6);
});

test('of nothing seen there is no share', () => {
  expect([...colourShares(new Float32Array(4), [2, 2])]).toEqual([0, 0, 0, 0]);
});
