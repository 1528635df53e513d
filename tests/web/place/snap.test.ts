import { describe, expect, test } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { snapCorner } from '../../../web/place/snap-to-edge.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const SIDE = 320;

/** A photo whose grey value falls from inside to outside over about two px, with a weave and some grain. */
function pictureOf(insideBy: (x: number, y: number) => number, contrast: number) {
  const random = seededRandom(7);
  const grey = Float32Array.from({ length: SIDE * SIDE }, (_, i) => {
    const [x, y] = [i % SIDE, Math.floor(i / SIDE)];
    const weave = 3 * Math.sin(x / 1.5) + 3 * Math.sin(y / 1.7);
    return 130 + contrast / (1 + Math.exp(-2 * insideBy(x, y))) + weave + random.uniform(-3, 3);
  });
  return { leftPx: 0, topPx: 0, width: SIDE, height: SIDE, grey };
}

const card: readonly ImagePoint[] = [
  [60, 80],
  [260, 70],
  [270, 200],
  [50, 210],
];

/** Signed distance into the card, by the nearest side. */
function insideCard(x: number, y: number): number {
  return Math.min(
    ...card.map(([ax, ay], k) => {
      const [bx, by] = card[(k + 1) % 4];
      return ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / Math.hypot(bx - ax, by - ay);
    }),
  );
}

describe('a card corner let go beside the card', () => {
  test.each([
    [0, 9, -7],
    [1, -6, 8],
    [2, 10, 10],
    [3, -9, 4],
  ])('corner %i snaps back from (%i, %i) px away, on faint contrast and a woven cloth', (corner, dx, dy) => {
    const pulled = card.map((point, k) => (k === corner ? ([point[0] + dx, point[1] + dy] as const) : point));
    const [x, y] = snapCorner(pictureOf(insideCard, 25), pulled, corner, 16);
    expect(Math.hypot(x - card[corner][0], y - card[corner][1])).toBeLessThan(1);
  });

  test('stays where it was put when there is only cloth', () => {
    const [x, y] = snapCorner(
      pictureOf(() => -9, 25),
      card,
      2,
      16,
    );
    expect(Math.hypot(x - card[2][0], y - card[2][1])).toBeLessThan(1e-9);
  });
});
