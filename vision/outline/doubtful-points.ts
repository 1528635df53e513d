import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { OutlinePoint } from '../sighting.ts';

/** A located edge with the place it was expected at. */
export interface LocatedPoint {
  readonly point: OutlinePoint;
  /** Expected place on the fitted outline, photo frame. */
  readonly expectedPx: ImagePoint;
}

/** Neighbours on each side that tell how much located edges scatter. */
const NEIGHBOURS = 5;
/** Farther apart than this many spacings along the outline, points are no neighbours. */
const GAP_SPACINGS = 4;
/** Median absolute deviation of a normal distribution, in sds. */
const MAD_PER_SD = 0.6745;
/** Points this many sds away from what their neighbours say are left out. */
const LEAVE_OUT = 4;

/**
 * Where edges jump to and fro from sample to sample, none of them can be trusted as far as its sharpness says: adds the
 * local scatter to each point's sd, and leaves out what lies far from its neighbours.
 */
export function withLocalScatter(located: readonly LocatedPoint[], spacingPx: number): OutlinePoint[] {
  const offsets = located.map(({ point, expectedPx }) => offsetOf(point, expectedPx));
  const kept: OutlinePoint[] = [];
  located.forEach(({ point, expectedPx }, i) => {
    const near: number[] = [];
    const reach = Math.min(NEIGHBOURS, Math.floor((located.length - 1) / 2));
    for (let k = -reach; k <= reach; k++) {
      const j = (i + k + located.length) % located.length;
      const [x, y] = located[j].expectedPx;
      const apart = Math.hypot(x - expectedPx[0], y - expectedPx[1]);
      if (apart < (NEIGHBOURS + GAP_SPACINGS) * spacingPx) near.push(offsets[j]);
    }
    const middle = median(near);
    const scatter = median(near.map((offset) => Math.abs(offset - middle))) / MAD_PER_SD;
    const sdPx = Math.hypot(point.sdPx, scatter);
    if (Math.abs(offsets[i] - middle) > LEAVE_OUT * sdPx) return;
    kept.push({ ...point, sdPx });
  });
  return kept;
}

/** Beside a card held to the front, outward bumps shorter than this share of the card's length are bands or fingers. */
const BUMP_REACH = 0.35;
const BUMP_SDS = 2.5;

/**
 * Leaves out what holds a card to the container: beside the card the wall it touches is straight, so points that stand
 * out from the line through the points around them belong to a rubber band or a finger.
 */
export function withoutHolders(points: readonly OutlinePoint[], cardPx: CornersPx): OutlinePoint[] {
  const size = Math.hypot(cardPx[2][0] - cardPx[0][0], cardPx[2][1] - cardPx[0][1]);
  const centre: ImagePoint = [(cardPx[0][0] + cardPx[2][0]) / 2, (cardPx[0][1] + cardPx[2][1]) / 2];
  const reach = BUMP_REACH * size;
  return points.filter((point) => {
    if (Math.hypot(point.xPx - centre[0], point.yPx - centre[1]) > size) return true;
    const along = (p: OutlinePoint) => (p.yPx - point.yPx) * point.normalX - (p.xPx - point.xPx) * point.normalY;
    const out = (p: OutlinePoint) => (p.xPx - point.xPx) * point.normalX + (p.yPx - point.yPx) * point.normalY;
    const near = points.filter(
      (p) => p.normalX * point.normalX + p.normalY * point.normalY > 0.9 && Math.abs(along(p)) < reach,
    );
    if (near.length < 12) return true;
    const [level, spread] = robustLevel(near.map(along), near.map(out));
    return -level < BUMP_SDS * Math.hypot(spread, point.sdPx);
  });
}

/** Value at 0 of a line through (x, y) by repeated medians (Siegel 1982), and the spread about the line. */
function robustLevel(x: readonly number[], y: readonly number[]): readonly [level: number, spread: number] {
  const slope = median(
    x.map((xi, i) => median(x.flatMap((xj, j) => (Math.abs(xj - xi) > 1e-6 ? [(y[j] - y[i]) / (xj - xi)] : [])))),
  );
  const level = median(x.map((xi, i) => y[i] - slope * xi));
  const spread = median(x.map((xi, i) => Math.abs(y[i] - slope * xi - level))) / MAD_PER_SD;
  return [level, spread];
}

function offsetOf({ xPx, yPx, normalX, normalY }: OutlinePoint, [x, y]: ImagePoint): number {
  return (xPx - x) * normalX + (yPx - y) * normalY;
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}
