import type { ImagePoint } from '../geometry/frames.ts';
import { resample } from '../geometry/polygon.ts';
import type { SymmetricCut } from './symmetric-cut.ts';

/**
 * Right half of a mirror-symmetric outline in an axis view: from the axis at the top round to the axis at the bottom.
 * Points are [distance from the axis column, row], view px.
 */
export interface HalfOutline {
  readonly axisColumn: number;
  readonly points: readonly (readonly [aside: number, row: number])[];
}

/** The border of a cut, its pixel steps smoothed away. */
export function halfOutlineOfCut(cut: SymmetricCut, smoothingPx: number): HalfOutline {
  const stairs: [number, number][] = [[0, cut.firstRow - 0.5]];
  cut.halfWidths.forEach((halfWidth, i) => {
    stairs.push([halfWidth, cut.firstRow + i - 0.5], [halfWidth, cut.firstRow + i + 0.5]);
  });
  stairs.push([0, cut.firstRow + cut.halfWidths.length - 0.5]);
  return { axisColumn: cut.axisColumn, points: smoothHalf(resample(stairs, 1), smoothingPx) };
}

/** Gaussian smoothing along the line; beyond its ends the line goes on as its own mirror image. */
export function smoothHalf(points: readonly (readonly [number, number])[], sigma: number): [number, number][] {
  const reach = Math.ceil(2.5 * sigma);
  const last = points.length - 1;
  const kernel = Array.from({ length: reach + 1 }, (_, k) => Math.exp(-0.5 * (k / sigma) ** 2));
  return points.map((_, i) => {
    let [sumX, sumY, sum] = [0, 0, 0];
    for (let k = -reach; k <= reach; k++) {
      let j = i + k;
      let side = 1;
      if (j < 0) [j, side] = [-j, -1];
      if (j > last) [j, side] = [2 * last - j, -1];
      if (j < 0 || j > last) continue;
      const weight = kernel[Math.abs(k)];
      sumX += weight * side * points[j][0];
      sumY += weight * points[j][1];
      sum += weight;
    }
    return [i === 0 || i === last ? 0 : sumX / sum, sumY / sum];
  });
}

/** Outward unit normals of the right half. */
export function halfNormals(points: readonly (readonly [number, number])[]): [number, number][] {
  const last = points.length - 1;
  return points.map((_, i) => {
    if (i === 0) return [0, -1];
    if (i === last) return [0, 1];
    const before = points[Math.max(i - 2, 0)];
    const after = points[Math.min(i + 2, last)];
    const dx = after[0] - before[0];
    const dy = after[1] - before[1];
    const length = Math.hypot(dx, dy) || 1;
    return [dy / length, -dx / length];
  });
}

/** The closed outline, clockwise from the top, view px; the axis points are not repeated. */
export function wholeOutline({ axisColumn, points }: HalfOutline): ImagePoint[] {
  const right = points.map(([aside, row]): ImagePoint => [axisColumn + aside, row]);
  const left = points
    .slice(1, -1)
    .reverse()
    .map(([aside, row]): ImagePoint => [axisColumn - aside, row]);
  return [...right, ...left];
}
