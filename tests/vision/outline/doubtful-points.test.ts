import { describe, expect, it } from 'vitest';
import { type LocatedPoint, withLocalScatter, withoutHolders } from '../../../vision/outline/doubtful-points.ts';
import { type InSight, pointsFromMask, withMaskDoubt } from '../../../vision/outline/mask-doubt.ts';
import type { OutlinePoint } from '../../../vision/sighting.ts';

/** A straight vertical wall whose outside is to the right. */
function wall(offset: (i: number) => number, count = 60): OutlinePoint[] {
  return Array.from({ length: count }, (_, i) => ({
    xPx: 200 + offset(i),
    yPx: 6 * i,
    normalX: 1,
    normalY: 0,
    sdPx: 0.4,
  }));
}

const located = (points: readonly OutlinePoint[]): LocatedPoint[] =>
  points.map((point) => ({ point, expectedPx: [200, point.yPx] }));

describe('edges that disagree with their neighbours', () => {
  it('are trusted less where they jump to and fro', () => {
    const [steady] = [withLocalScatter(located(wall(() => 0.1)), 6)];
    const jumping = withLocalScatter(located(wall((i) => (i % 2 === 0 ? 2 : -2))), 6);
    expect(Math.max(...steady.map(({ sdPx }) => sdPx))).toBeCloseTo(0.4, 6);
    expect(Math.min(...jumping.map(({ sdPx }) => sdPx))).toBeGreaterThan(2);
  });

  it('are left out where a single one stands out', () => {
    const kept = withLocalScatter(located(wall((i) => (i === 30 ? 5 : 0))), 6);
    expect(kept.length).toBe(59);
    expect(kept.every(({ xPx }) => xPx < 202)).toBe(true);
  });
});

describe('the band that holds a card to a container', () => {
  const card = [
    [120, 100],
    [180, 100],
    [180, 250],
    [120, 250],
  ] as const;

  it('is left out, the wall beside the card kept', () => {
    const banded = wall((i) => (i === 28 || i === 29 ? 4 : 0));
    const kept = withoutHolders(banded, card);
    expect(kept.length).toBe(58);
    expect(kept.every(({ xPx }) => xPx === 200)).toBe(true);
  });

  it('is not seen in a neck further away from the card', () => {
    const stepped = wall((i) => (i > 55 ? -30 : 0));
    expect(withoutHolders(stepped, card).length).toBe(60);
  });
});

describe('edges beside the coarse mask', () => {
  const columns = 60;
  // inside left of x = 200, in cells of 10 px
  const mask = {
    widthCells: columns,
    heightCells: 40,
    probability: Float32Array.from({ length: columns * 40 }, (_, i) => ((i % columns) * 10 + 5 < 200 ? 1 : 0)),
    originPx: [5, 5],
    pxPerCell: [10, 10],
  } as const;

  it('keep their sd within the tolerance of the mask and lose trust beyond it', () => {
    const near = withMaskDoubt(
      wall(() => 3),
      { mask, tolerancePx: 6 },
    );
    const far = withMaskDoubt(
      wall(() => 20),
      { mask, tolerancePx: 6 },
    );
    expect(near[20].sdPx).toBeCloseTo(0.4, 6);
    expect(far[20].sdPx).toBeCloseTo(Math.hypot(0.4, 7), 1);
  });

  const samples = wall(() => 8).map(({ xPx, yPx, normalX, normalY }) => ({ x: xPx, y: yPx, normalX, normalY }));
  const sdOf = (points: ReturnType<typeof pointsFromMask>) =>
    points.reduce((sum, { sdPx }) => sum + sdPx ** -2, 0) ** -0.5;
  const inSight = (kindAt: (i: number) => InSight) => samples.map((_, i) => kindAt(i));

  it('are replaced, where missing, by sparse points on the mask that together weigh as one', () => {
    const points = pointsFromMask(
      samples,
      inSight(() => 'no-edge'),
      { mask, tolerancePx: 6 },
    );
    expect(points.length).toBe(15);
    for (const { xPx } of points) expect(Math.abs(xPx - 200)).toBeLessThan(1);
    expect(sdOf(points)).toBeCloseTo(6, 6);
  });

  it('leave alone what edges show: two gaps far apart weigh as two', () => {
    const seen = inSight((i) => (i < 10 || (i >= 20 && i < 40) || i >= 50 ? 'edge' : 'no-edge'));
    expect(sdOf(pointsFromMask(samples, seen, { mask, tolerancePx: 6 }))).toBeCloseTo(6 / Math.sqrt(2), 6);
  });

  it('are only guessed behind the card: the mask counts for little there, and for what it is beside it', () => {
    const hidden = pointsFromMask(
      samples,
      inSight((i) => (i < 20 ? 'edge' : 'hidden')),
      { mask, tolerancePx: 6 },
    );
    expect(sdOf(hidden)).toBeGreaterThan(3 * 6);
    const partly = inSight((i) => (i < 20 ? 'edge' : i < 40 ? 'hidden' : 'no-edge'));
    const points = pointsFromMask(samples, partly, { mask, tolerancePx: 6 });
    expect(sdOf(points.filter(({ sdPx }) => sdPx < 18))).toBeCloseTo(6, 6);
  });
});
