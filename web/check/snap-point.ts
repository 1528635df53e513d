import type { CornersPx, ImagePoint } from '../../vision/frames.ts';

/** Signed distance along `normal` from a photo point to the nearest image edge; null when there is none near. */
export type EdgeFinder = (atPx: ImagePoint, normal: readonly [number, number], reachPx: number) => number | null;

/** An outline point moved across the outline onto the edge nearby. */
export function snapOutlinePoint(
  find: EdgeFinder,
  outlinePx: readonly ImagePoint[],
  index: number,
  reachPx: number,
): ImagePoint {
  const count = outlinePx.length;
  const at = outlinePx[index];
  const spread = Math.max(1, Math.round(count / 60));
  const before = outlinePx[(index - spread + count) % count];
  const after = outlinePx[(index + spread) % count];
  const normal = leftNormal(before, after);
  const offset = normal && find(at, normal, reachPx);
  return normal && offset ? [at[0] + offset * normal[0], at[1] + offset * normal[1]] : at;
}

/** Places along a side, counted from its far corner, where its edge is looked for: clear of the rounded corners. */
const SIDE_SAMPLES = [0.35, 0.45, 0.55, 0.65, 0.75, 0.85];

/**
 * A card corner moved so that both sides that meet in it lie on the card's edges. Each side turns about its far
 * corner, so an edge found at share t of its length stands for 1/t of it at the corner; the median of all counts.
 */
export function snapCorner(find: EdgeFinder, cornersPx: CornersPx, corner: number, reachPx: number): ImagePoint {
  const at = cornersPx[corner];
  const lines = [cornersPx[(corner + 3) % 4], cornersPx[(corner + 1) % 4]].map((far) => {
    const normal = leftNormal(far, at);
    if (!normal) return null;
    const offsets = SIDE_SAMPLES.map((share) => {
      const sample: ImagePoint = [far[0] + share * (at[0] - far[0]), far[1] + share * (at[1] - far[1])];
      const offset = find(sample, normal, reachPx * share);
      return offset === null ? null : offset / share;
    }).filter((offset) => offset !== null);
    const shift = offsets.length >= 3 ? median(offsets) : 0;
    return { far, to: [at[0] + shift * normal[0], at[1] + shift * normal[1]] as const };
  });
  const [first, second] = lines;
  return (first && second && crossing(first.far, first.to, second.far, second.to)) ?? at;
}

function leftNormal(from: ImagePoint, to: ImagePoint): readonly [number, number] | null {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dy / length, -dx / length] : null;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** Where two lines meet; null when they hardly do. */
function crossing(a: ImagePoint, b: ImagePoint, c: ImagePoint, d: ImagePoint): ImagePoint | null {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [vx, vy] = [d[0] - c[0], d[1] - c[1]];
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 0.05 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross;
  return [a[0] + t * ux, a[1] + t * uy];
}
