import type { ImagePoint } from '../../vision/geometry/frames.ts';

/** Part of the photo in grey, row by row, 0..255. */
export interface GreyPatch {
  /** Photo px of its first pixel. */
  readonly leftPx: number;
  readonly topPx: number;
  readonly width: number;
  readonly height: number;
  readonly grey: Float32Array | readonly number[];
}

type Direction = readonly [number, number];

/** An edge must part the grey values by this much to attract a point; the weave of a cloth does not (snap.test.ts). */
const MIN_STEP = 6;
/** Pixels on each side of an edge that are compared; a camera's blur is about this wide. */
const SIDE_DEPTH = 3;
/** Offsets tried, px. */
const SEARCH_STEP = 0.5;

/** Samples along a side, as shares of its length from the far corner: clear of the rounded corners. */
const SIDE_SHARES = Array.from({ length: 25 }, (_, k) => 0.15 + (0.72 * k) / 24);

/**
 * A card corner moved so that both sides that meet in it lie on the card's edges. Each side turns about its far corner
 * and stops where the grey values part most along its whole length.
 * @param cornersPx  the card with the corner where the hand left it
 * @param corner     which one
 */
export function snapCorner(
  patch: GreyPatch,
  cornersPx: readonly ImagePoint[],
  corner: number,
  reachPx: number,
): ImagePoint {
  const at = cornersPx[corner];
  const lines = [cornersPx[(corner + 3) % 4], cornersPx[(corner + 1) % 4]].map((far) => {
    const along = direction(far, at);
    if (!along) return null;
    const normal: Direction = [along[1], -along[0]];
    const lengthPx = Math.hypot(at[0] - far[0], at[1] - far[1]);
    const shift = bestShift(reachPx, (offset) =>
      mean(
        SIDE_SHARES.map((share) =>
          stepAcross(patch, moved(moved(far, along, share * lengthPx), normal, share * offset), normal),
        ),
      ),
    );
    return { far, to: moved(at, normal, shift) };
  });
  const [first, second] = lines;
  return (first && second && crossing(first.far, first.to, second.far, second.to)) ?? at;
}

/** The offset within reach where the step is largest, nearer ones first among equals; 0 when none is large enough. */
function bestShift(reachPx: number, stepAt: (offset: number) => number): number {
  const last = Math.ceil(reachPx / SEARCH_STEP);
  const steps: number[] = [];
  for (let k = -last; k <= last; k += 1) {
    steps.push(Math.abs(stepAt(k * SEARCH_STEP)) * (1 - 0.3 * Math.abs(k / (last + 1))));
  }
  let best = -1;
  for (let i = 1; i < steps.length - 1; i += 1) {
    const peak = steps[i] >= steps[i - 1] && steps[i] >= steps[i + 1];
    if (peak && steps[i] >= MIN_STEP && (best < 0 || steps[i] > steps[best])) best = i;
  }
  if (best < 0) return 0;
  const [before, peak, after] = steps.slice(best - 1, best + 2);
  const curvature = before - 2 * peak + after;
  const fraction = curvature === 0 ? 0 : (0.5 * (before - after)) / curvature;
  return (best - last + fraction) * SEARCH_STEP;
}

/** Mean grey just beyond the point along the normal less the mean just before it. */
function stepAcross(patch: GreyPatch, [x, y]: ImagePoint, [nx, ny]: Direction): number {
  let sum = 0;
  for (let depth = 1; depth <= SIDE_DEPTH; depth += 1) {
    sum += greyAt(patch, x + depth * nx, y + depth * ny) - greyAt(patch, x - depth * nx, y - depth * ny);
  }
  return sum / SIDE_DEPTH;
}

/** Bilinear, held at the patch's border. */
function greyAt({ leftPx, topPx, width, height, grey }: GreyPatch, xPx: number, yPx: number): number {
  const x = Math.min(Math.max(xPx - leftPx, 0), width - 1.001);
  const y = Math.min(Math.max(yPx - topPx, 0), height - 1.001);
  const [column, row] = [Math.floor(x), Math.floor(y)];
  const [fx, fy] = [x - column, y - row];
  const at = (i: number, j: number) => grey[j * width + i];
  return (
    (1 - fy) * ((1 - fx) * at(column, row) + fx * at(column + 1, row)) +
    fy * ((1 - fx) * at(column, row + 1) + fx * at(column + 1, row + 1))
  );
}

function direction(from: ImagePoint, to: ImagePoint): Direction | null {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dx / length, dy / length] : null;
}

function moved([x, y]: ImagePoint, [dx, dy]: Direction, by: number): ImagePoint {
  return [x + by * dx, y + by * dy];
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
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
