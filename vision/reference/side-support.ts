import type { EdgeField } from './edge-field.ts';
import type { Quad } from './rectangle-view.ts';

/** A side's outer 8 % at each end is left out: rounded corners. */
const CORNER_SHARE = 0.08;
/** Edges stronger than this (grey levels per px) count no more: a card on a dark desk is not more card than white on white. */
const STRONG_ENOUGH = 1.2;

/** Support that a move of 1 px must gain: corners made of good segments should stay where they are. */
const SNAP_RELUCTANCE = 0.01;

/**
 * Mean edge strength found along a line from one corner to another, only the part across the line, clipped, 0..1.
 * @param reachPx  how far beside the line the edge may be
 */
export function sideSupport(
  field: EdgeField,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  samples: number,
  reachPx: number,
): number {
  const { widthPx: width, heightPx: height, strength, normalX, normalY } = field;
  const dx = bx - ax;
  const dy = by - ay;
  const length = Math.sqrt(dx * dx + dy * dy) || 1;
  const nx = -dy / length;
  const ny = dx / length;
  let sum = 0;
  for (let k = 0; k < samples; k++) {
    const t = CORNER_SHARE + ((1 - 2 * CORNER_SHARE) * (k + 0.5)) / samples;
    const px = ax + t * dx;
    const py = ay + t * dy;
    let best = 0;
    for (let o = -reachPx; o <= reachPx; o++) {
      const x = Math.round(px + o * nx);
      const y = Math.round(py + o * ny);
      if (x < 1 || y < 1 || x >= width - 1 || y >= height - 1) continue;
      const i = y * width + x;
      const s = strength[i];
      if (s <= best) continue;
      const aligned = Math.abs(normalX[i] * nx + normalY[i] * ny);
      if (aligned < 0.8) continue;
      if (s * aligned > best) best = s * aligned;
    }
    sum += Math.min(best, STRONG_ENOUGH);
  }
  return sum / (samples * STRONG_ENOUGH);
}

/** Half the mean and half the weakest of the four sides: a finger may hide much of one side, not of two. */
export function quadSupport(field: EdgeField, q: Quad, samples: number, reachPx: number): number {
  let sum = 0;
  let weakest = 1;
  for (let k = 0; k < 8; k += 2) {
    const s = sideSupport(field, q[k], q[k + 1], q[(k + 2) % 8], q[(k + 3) % 8], samples, reachPx);
    sum += s;
    if (s < weakest) weakest = s;
  }
  return 0.125 * sum + 0.5 * weakest;
}

/** How far beyond a corner a side is followed, as a share of its length, and in how many samples. */
const RUN_ON_FROM = 0.04;
const RUN_ON_TO = 0.2;
const RUN_ON_SAMPLES = 5;

/**
 * Mean edge strength, 0..1, found where the four sides would run on beyond their corners. A card ends there; the lines
 * of a grid, a cloth or a tiled wall do not.
 */
export function runOn(field: EdgeField, q: Quad): number {
  const { widthPx: width, heightPx: height, strength, normalX, normalY } = field;
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    const ax = q[2 * k];
    const ay = q[2 * k + 1];
    const dx = q[(2 * k + 2) % 8] - ax;
    const dy = q[(2 * k + 3) % 8] - ay;
    const length = Math.sqrt(dx * dx + dy * dy) || 1;
    const nx = -dy / length;
    const ny = dx / length;
    for (let i = 0; i < 2 * RUN_ON_SAMPLES; i++) {
      const beyond = RUN_ON_FROM + ((RUN_ON_TO - RUN_ON_FROM) * ((i >> 1) + 0.5)) / RUN_ON_SAMPLES;
      const t = (i & 1) === 0 ? -beyond : 1 + beyond;
      let best = 0;
      for (let o = -1; o <= 1; o++) {
        const x = Math.round(ax + t * dx + o * nx);
        const y = Math.round(ay + t * dy + o * ny);
        if (x < 1 || y < 1 || x >= width - 1 || y >= height - 1) continue;
        const at = y * width + x;
        if (strength[at] > best && Math.abs(normalX[at] * nx + normalY[at] * ny) > 0.9) best = strength[at];
      }
      sum += Math.min(best, STRONG_ENOUGH);
    }
  }
  return sum / (8 * RUN_ON_SAMPLES * STRONG_ENOUGH);
}

/**
 * Moves both ends of each side across it, up to `reachPx` in steps of `stepPx`, to where its support is best,
 * and intersects the moved sides. Null when they no longer make a convex quad.
 */
export function snapToEdges(field: EdgeField, q: Quad, reachPx: number, stepPx: number): Quad | null {
  const lines = new Float64Array(12); // point and direction... a x + b y = c per side
  for (let k = 0; k < 4; k++) {
    const ax = q[2 * k];
    const ay = q[2 * k + 1];
    const bx = q[(2 * k + 2) % 8];
    const by = q[(2 * k + 3) % 8];
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const nx = -(by - ay) / length;
    const ny = (bx - ax) / length;
    let best = -1;
    let bestA = 0;
    let bestB = 0;
    for (let a = -reachPx; a <= reachPx; a += stepPx) {
      for (let b = -reachPx; b <= reachPx; b += stepPx) {
        const s =
          sideSupport(field, ax + a * nx, ay + a * ny, bx + b * nx, by + b * ny, 14, 0) -
          SNAP_RELUCTANCE * (Math.abs(a) + Math.abs(b));
        if (s > best) {
          best = s;
          bestA = a;
          bestB = b;
        }
      }
    }
    const x0 = ax + bestA * nx;
    const y0 = ay + bestA * ny;
    const x1 = bx + bestB * nx;
    const y1 = by + bestB * ny;
    lines[3 * k] = y0 - y1;
    lines[3 * k + 1] = x1 - x0;
    lines[3 * k + 2] = x1 * y0 - x0 * y1;
  }
  return quadFromLines(lines);
}

/** Corner k is where side k − 1 meets side k; each line is (a, b, c) with a x + b y = c. */
export function quadFromLines(lines: ArrayLike<number>): Quad | null {
  const q = new Float64Array(8);
  for (let k = 0; k < 4; k++) {
    const p = 3 * ((k + 3) % 4);
    const n = 3 * k;
    const determinant = lines[p] * lines[n + 1] - lines[n] * lines[p + 1];
    if (Math.abs(determinant) < 1e-9) return null;
    q[2 * k] = (lines[p + 2] * lines[n + 1] - lines[n + 2] * lines[p + 1]) / determinant;
    q[2 * k + 1] = (lines[p] * lines[n + 2] - lines[n] * lines[p + 2]) / determinant;
  }
  return q;
}
