import { describe, expect, test } from 'vitest';
import { type EdgeFinder, snapCorner, snapOutlinePoint } from '../../../web/check/snap-point.ts';
import { edgeOffset } from '../../../web/check/snap-to-edge.ts';

/** Dark left of a slanted line through (x0, y0), bright right of it, blurred over about one px. */
function slantedEdge(x0: number, angleRad: number) {
  const side = 61;
  const grey = Float32Array.from({ length: side * side }, (_, i) => {
    const distance = ((i % side) - x0) * Math.cos(angleRad) + (Math.floor(i / side) - 30) * Math.sin(angleRad);
    return 60 + 120 / (1 + Math.exp(-2 * distance));
  });
  return { width: side, height: side, grey };
}

describe('edges that attract a point', () => {
  test.each([-9, -3.4, 0, 2.6, 8])('an edge %f px away is found to a tenth of a px', (away) => {
    const angle = 0.2;
    const offset = edgeOffset(
      slantedEdge(30 + away / Math.cos(angle), angle),
      [30, 30],
      [Math.cos(angle), Math.sin(angle)],
      12,
    );
    expect(Math.abs((offset ?? Number.NaN) - away)).toBeLessThan(0.1);
  });

  test('nothing is found in a flat picture', () => {
    const flat = { width: 61, height: 61, grey: new Float32Array(61 * 61).fill(128) };
    expect(edgeOffset(flat, [30, 30], [1, 0], 12)).toBeNull();
  });

  test('nothing is found where the edge lies out of reach', () => {
    expect(edgeOffset(slantedEdge(50, 0), [30, 30], [1, 0], 8)).toBeNull();
  });

  test('an outline point moves across the outline only', () => {
    const outline = Array.from({ length: 120 }, (_, i) => [100, 4 * i] as const);
    const toTheRight: EdgeFinder = (_at, [nx]) => 5 * Math.sign(nx);
    const [x, y] = snapOutlinePoint(toTheRight, outline, 60, 12);
    expect(x).toBeCloseTo(105, 9);
    expect(y).toBeCloseTo(240, 9);
  });

  test('a corner pulled off the card goes back to where its sides meet', () => {
    const card = [
      [0, 0],
      [200, 0],
      [200, 120],
      [0, 120],
    ] as const;
    // The card's edges as infinite lines x = 200 and y = 120; a finder that knows how far they are.
    const find: EdgeFinder = ([x, y], [nx, ny], reach) => {
      const along = Math.abs(nx) > Math.abs(ny) ? (200 - x) / nx : (120 - y) / ny;
      return Math.abs(along) <= reach ? along : null;
    };
    const pulled = [card[0], card[1], [206, 115], card[3]] as const;
    const [x, y] = snapCorner(find, pulled, 2, 12);
    expect(Math.hypot(x - 200, y - 120)).toBeLessThan(0.2);
  });

  test('a corner far from any edge stays where it was put', () => {
    const card = [
      [0, 0],
      [200, 0],
      [230, 150],
      [0, 120],
    ] as const;
    const [x, y] = snapCorner(() => null, card, 2, 12);
    expect([x, y].map(Math.round)).toEqual([230, 150]);
  });
});
