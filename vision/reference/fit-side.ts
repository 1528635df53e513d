import { type SideProfiles, STEP_PX } from './side-profiles.ts';

/** The edge found across one side, as offsets out of the card from the side that was searched around. */
export interface FittedSide {
  /** Offsets of the fitted line at the side's two ends, px. */
  readonly offsetAPx: number;
  readonly offsetBPx: number;
  /** Position along (0..1) and offset (px) of the edge samples that belong to the line. */
  readonly samples: readonly (readonly [along: number, offsetPx: number])[];
  /** Robust scatter of the samples about the line, px. */
  readonly scatterPx: number;
  /** Share of the side's samples that belong to the line. */
  readonly seen: number;
  /** Share that lies tightly on it: faint true edges do, the peaks of mere noise scatter. */
  readonly straight: number;
  /** The same share of the first and of the last quarter of the side. */
  readonly straightEnds: readonly [number, number];
  readonly strength: number;
}

/** A step per px that counts in full; fainter ones count in proportion. */
const CLIP_AT_MEDIAN = 1.5;
const INLIER_PX = 1.2;
const TIGHT_PX = 0.5;
const IRLS_STEPS = 6;
const IRLS_SCALE_PX = 0.5;

/**
 * The straight line along which the picture changes most: first the best of all lines on the grid by the sum of
 * (clipped) changes, then the sub-pixel peaks near it, fitted with weights that fade out stray samples.
 */
export function fitSide(profiles: SideProfiles): FittedSide {
  const coarse = bestGridLine(profiles);
  const { points, weights } = peaksNear(profiles, coarse);
  let [offsetAPx, offsetBPx] = coarse;
  let scatterPx = 1;
  if (points.length >= 4) {
    const residuals = new Float64Array(points.length);
    for (let step = 0; step < IRLS_STEPS; step++) {
      const fitted = weightedLine(points, weights, residuals, step === 0 ? INLIER_PX : IRLS_SCALE_PX);
      if (!fitted) break;
      [offsetAPx, offsetBPx] = fitted;
      for (let k = 0; k < points.length; k++) residuals[k] = points[k][1] - lineAt(fitted, points[k][0]);
    }
  }
  const distances = points.map(([t, o]) => Math.abs(o - lineAt([offsetAPx, offsetBPx], t)));
  const near = points.filter((_, k) => distances[k] < INLIER_PX);
  const tight = points.filter((_, k) => distances[k] < TIGHT_PX).map(([t]) => t);
  const { rows, along } = profiles;
  const quarter = Math.ceil(rows / 4);
  scatterPx = 1.4826 * median(distances.filter((d) => d < INLIER_PX));
  return {
    offsetAPx,
    offsetBPx,
    samples: near,
    scatterPx,
    seen: near.length / rows,
    straight: tight.length / rows,
    straightEnds: [
      tight.filter((t) => t <= along[quarter - 1]).length / quarter,
      tight.filter((t) => t >= along[rows - quarter]).length / quarter,
    ],
    strength: median(weights),
  };
}

function lineAt([a, b]: readonly [number, number], t: number): number {
  return a + t * (b - a);
}

function bestGridLine(profiles: SideProfiles): [number, number] {
  const { rows, columns, centre, along, change } = profiles;
  const clip = CLIP_AT_MEDIAN * typicalPeak(profiles);
  const clipped = Float32Array.from(change, (s) => Math.min(s, clip));
  const reach = centre - 1;
  // the peaks within 2 px of the best line are looked at closely afterwards
  const step = reach > 16 ? 3 : 2;
  let best = -1;
  let bestA = 0;
  let bestB = 0;
  for (let a = -reach; a <= reach; a += step) {
    for (let b = -reach; b <= reach; b += step) {
      let sum = 0;
      for (let r = 0; r < rows; r++) sum += clipped[r * columns + centre + Math.round(a + along[r] * (b - a))];
      const middle = (a + b) / 2 / (0.6 * centre);
      const turn = (a - b) / 2 / (0.6 * centre);
      const value = sum * Math.exp(-middle * middle - turn * turn);
      if (value > best) {
        best = value;
        bestA = a;
        bestB = b;
      }
    }
  }
  return [bestA * STEP_PX, bestB * STEP_PX];
}

/** Median over the rows of each row's strongest change. */
function typicalPeak({ rows, columns, change }: SideProfiles): number {
  const peaks: number[] = [];
  for (let r = 0; r < rows; r++) {
    let peak = 0;
    for (let c = 1; c < columns - 1; c++) peak = Math.max(peak, change[r * columns + c]);
    peaks.push(peak);
  }
  return median(peaks) + 1e-6;
}

function peaksNear(
  { rows, columns, centre, along, change }: SideProfiles,
  line: readonly [number, number],
): { points: [number, number][]; weights: number[] } {
  const points: [number, number][] = [];
  const weights: number[] = [];
  const reach = Math.round(2 / STEP_PX);
  for (let r = 0; r < rows; r++) {
    const middle = centre + Math.round(lineAt(line, along[r]) / STEP_PX);
    let peak = -1;
    let strongest = 1e-3;
    for (let c = Math.max(2, middle - reach); c <= Math.min(columns - 3, middle + reach); c++) {
      const s = change[r * columns + c];
      if (s > strongest && s >= change[r * columns + c - 1] && s >= change[r * columns + c + 1]) {
        strongest = s;
        peak = c;
      }
    }
    if (peak < 0) continue;
    const before = change[r * columns + peak - 1];
    const after = change[r * columns + peak + 1];
    const bend = before - 2 * strongest + after;
    const shift = bend < 0 ? (0.5 * (before - after)) / bend : 0;
    points.push([along[r], (peak - centre + shift) * STEP_PX]);
    weights.push(strongest);
  }
  return { points, weights };
}

/** Weighted least squares; a residual of `scalePx` halves a sample's weight, three times that nearly silences it. */
function weightedLine(
  points: readonly (readonly [number, number])[],
  strengths: readonly number[],
  residuals: Float64Array,
  scalePx: number,
): [number, number] | null {
  const clip = median(strengths);
  let w0 = 0;
  let wt = 0;
  let wtt = 0;
  let wo = 0;
  let wto = 0;
  for (let k = 0; k < points.length; k++) {
    const share = residuals[k] / scalePx;
    const fade = 1 / (1 + share * share);
    const w = Math.min(strengths[k], clip) * fade * fade;
    const [t, o] = points[k];
    w0 += w;
    wt += w * t;
    wtt += w * t * t;
    wo += w * o;
    wto += w * t * o;
  }
  const determinant = w0 * wtt - wt * wt;
  if (!(determinant > 1e-9 * w0 * w0)) return null;
  const slope = (w0 * wto - wt * wo) / determinant;
  const start = (wo - slope * wt) / w0;
  return [start, start + slope];
}

export function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
}
