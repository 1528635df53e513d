/** Grey values row by row, 0..255. */
export interface GreyPatch {
  readonly width: number;
  readonly height: number;
  readonly grey: Float32Array | readonly number[];
}

/** An edge must change the grey value by at least this much over one px to attract a point; film grain does not. */
const MIN_STEP = 6;
/** Samples along the edge that must agree: half the length of the strip looked at, px. */
const HALF_STRIP = 4;

/**
 * How far the strongest edge lies from a point, measured along a direction.
 * The gradient is averaged over a short strip along the edge, and nearer edges win over slightly stronger ones.
 * @param patch     grey picture around the point
 * @param at        the point, in px of the patch
 * @param normal    unit vector to search along, both ways
 * @param reachPx   how far to look
 * @returns signed distance in px, to a fraction of a px (parabola through the peak); null when no edge is near
 */
export function edgeOffset(
  patch: GreyPatch,
  at: readonly [number, number],
  normal: readonly [number, number],
  reachPx: number,
): number | null {
  const steps = Math.ceil(reachPx) + 1;
  const strengths: number[] = [];
  for (let offset = -steps; offset <= steps; offset += 1) {
    strengths.push(stripGradient(patch, at, normal, offset) * (1 - 0.5 * Math.abs(offset / (steps + 1))));
  }
  let best = -1;
  for (let i = 1; i < strengths.length - 1; i += 1) {
    const peak = strengths[i] >= strengths[i - 1] && strengths[i] >= strengths[i + 1];
    if (peak && (best < 0 || strengths[i] > strengths[best])) best = i;
  }
  if (best < 0 || strengths[best] < MIN_STEP) return null;
  const [before, peak, after] = strengths.slice(best - 1, best + 2);
  const curvature = before - 2 * peak + after;
  const fraction = curvature === 0 ? 0 : (0.5 * (before - after)) / curvature;
  return best - steps + fraction;
}

function stripGradient(
  patch: GreyPatch,
  [x, y]: readonly [number, number],
  [nx, ny]: readonly [number, number],
  offset: number,
): number {
  let sum = 0;
  for (let along = -HALF_STRIP; along <= HALF_STRIP; along += 1) {
    const px = x + offset * nx - along * ny;
    const py = y + offset * ny + along * nx;
    sum += greyAt(patch, px + nx, py + ny) - greyAt(patch, px - nx, py - ny);
  }
  return Math.abs(sum) / (2 * (2 * HALF_STRIP + 1));
}

/** Bilinear, held at the border. */
function greyAt({ width, height, grey }: GreyPatch, x: number, y: number): number {
  const cx = Math.min(Math.max(x, 0), width - 1.001);
  const cy = Math.min(Math.max(y, 0), height - 1.001);
  const [left, top] = [Math.floor(cx), Math.floor(cy)];
  const [fx, fy] = [cx - left, cy - top];
  const at = (i: number, j: number) => grey[j * width + i];
  return (
    (1 - fy) * ((1 - fx) * at(left, top) + fx * at(left + 1, top)) +
    fy * ((1 - fx) * at(left, top + 1) + fx * at(left + 1, top + 1))
  );
}
