import { expect, test } from 'vitest';
import { peakOf, probabilities, softmax } from '../../../vision/network/read-maps.ts';

test('a bump between cells is located to a few hundredths of a cell', () => {
  const peak = peakOf(bumps([{ column: 12.4, row: 7.7, height: 1 }]), COLUMNS);
  expect(peak.column).toBeCloseTo(12.4, 1);
  expect(peak.row).toBeCloseTo(7.7, 1);
  expect(peak.mass).toBeGreaterThan(0.95);
});

test('of two bumps the stronger is the peak, and its mass tells that another is possible', () => {
  const peak = peakOf(
    bumps([
      { column: 5, row: 5, height: 0.4 },
      { column: 25, row: 12, height: 0.6 },
    ]),
    COLUMNS,
  );
  expect([Math.round(peak.column), Math.round(peak.row)]).toEqual([25, 12]);
  expect(peak.mass).toBeCloseTo(0.6, 1);
});

test('asked to stay away from one end, the peak is the other', () => {
  const map = bumps([
    { column: 5, row: 5, height: 0.4 },
    { column: 25, row: 12, height: 0.6 },
  ]);
  const other = peakOf(map, COLUMNS, peakOf(map, COLUMNS));
  expect([Math.round(other.column), Math.round(other.row)]).toEqual([5, 5]);
  expect(other.mass).toBeCloseTo(0.4, 1);
});

test('a flat map has no peak worth the name', () => {
  expect(peakOf(new Float32Array(COLUMNS * ROWS), COLUMNS).mass).toBeCloseTo(25 / (COLUMNS * ROWS), 6);
});

test('a peak at the border stays inside the map', () => {
  const peak = peakOf(bumps([{ column: 0, row: 0, height: 1 }]), COLUMNS);
  expect(peak.column).toBeLessThan(1);
  expect(peak.row).toBeLessThan(1);
});

test('softmax survives large logits and adds up to one', () => {
  const shares = softmax(Float32Array.of(1000, 1001, -1000));
  expect(shares[0] + shares[1] + shares[2]).toBeCloseTo(1, 6);
  expect(shares[1] / shares[0]).toBeCloseTo(Math.E, 4);
});

test('a logit of zero is an even chance', () => {
  expect([...probabilities(Float32Array.of(0, 40, -40))]).toEqual([0.5, 1, expect.closeTo(0, 6)]);
});

const COLUMNS = 40;
const ROWS = 20;

/** Logits of a sum of round bumps of unit spread over a faint ground. */
function bumps(
  list: readonly { readonly column: number; readonly row: number; readonly height: number }[],
): Float32Array {
  return Float32Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const density = list.map(
      ({ column, row, height }) =>
        height * Math.exp(-0.5 * (((i % COLUMNS) - column) ** 2 + (Math.floor(i / COLUMNS) - row) ** 2)),
    );
    return Math.log(density.reduce((a, b) => a + b, 1e-6));
  });
}
