import type { ImagePoint } from '../geometry/frames.ts';
import type { Photo } from '../picture/photo.ts';
import { imageFromTable, type TablePoint, type TableView } from '../reference/table-view.ts';
import { type ColourModel, LOG_LIGHT } from './colour-model.ts';

/** A curve near the edge with its outward unit normals, on a plane parallel to the table. */
export interface EdgeBand {
  readonly points: readonly TablePoint[];
  readonly normals: readonly TablePoint[];
  /** The curve's last point is followed by its first. */
  readonly closed: boolean;
  /** How far to look on both sides, mm. */
  readonly reachMm: number;
}

/** Bins across the band; an edge is told to a fraction of one. */
const ACROSS = 96;
/** Cost of moving one bin between neighbouring points of the band, in units of evidence. */
const MOVE_COST = 0.7;
/** Bins that the edge may move at most from one point to the next. */
const MOST_MOVE = 3;

/** The edge found in a band. */
export interface TracedEdge {
  /** For each point of the band the offset along its normal, mm. */
  readonly offsetsMm: Float64Array;
  /** Mean evidence of a pixel just inside minus one just outside, halved: 0 when yarn and table look alike. */
  readonly contrast: number;
}

/** Bins on both sides of the edge over which the contrast is taken. */
const CONTRAST_BINS = 16;

/**
 * The edge between yarn (inside) and table (outside) along a band.
 * The path of greatest summed evidence, yarn before it and table behind it, that moves smoothly along the band
 * (dynamic programming); a strand that leaves the work does not pull it along.
 */
export function traceEdge(
  photo: Photo,
  view: TableView,
  heightMm: number,
  colours: ColourModel,
  band: EdgeBand,
): TracedEdge {
  const n = band.points.length;
  const stepMm = (2 * band.reachMm) / ACROSS;
  // gain[i][k]: evidence that the edge lies before bin k
  const gain = new Float32Array(n * (ACROSS + 1));
  for (let i = 0; i < n; i++) {
    const [px, py] = band.points[i];
    const [nx, ny] = band.normals[i];
    const row = i * (ACROSS + 1);
    for (let k = 0; k < ACROSS; k++) {
      const offset = (k + 0.5) * stepMm - band.reachMm;
      const evidence = evidenceAt(photo, colours, imageFromTable(view, [px + offset * nx, py + offset * ny], heightMm));
      gain[row + k + 1] = gain[row + k] + evidence;
    }
  }
  const path = band.closed ? closedPath(gain, n) : bestPath(gain, n, null);
  const offsetsMm = Float64Array.from(path, (k, i) => refine(gain, i, k) * stepMm - band.reachMm);
  return { offsetsMm, contrast: contrastAt(gain, path) };
}

function contrastAt(gain: Float32Array, path: Int32Array): number {
  let sum = 0;
  path.forEach((k, i) => {
    const row = i * (ACROSS + 1);
    const [inner, outer] = [Math.max(0, k - CONTRAST_BINS), Math.min(ACROSS, k + CONTRAST_BINS)];
    const inside = k > inner ? (gain[row + k] - gain[row + inner]) / (k - inner) : 0;
    const outside = outer > k ? (gain[row + outer] - gain[row + k]) / (outer - k) : 0;
    sum += (inside - outside) / 2;
  });
  return sum / path.length;
}

function evidenceAt({ rgba, widthPx, heightPx }: Photo, colours: ColourModel, [u, v]: ImagePoint): number {
  const x = Math.round(u);
  const y = Math.round(v);
  if (x < 0 || y < 0 || x >= widthPx || y >= heightPx) return 0;
  const at = 4 * (y * widthPx + x);
  return colours.evidence(LOG_LIGHT[rgba[at]], LOG_LIGHT[rgba[at + 1]], LOG_LIGHT[rgba[at + 2]]);
}

/** A closed path: the best one through the place that the best open path takes half-way round. */
function closedPath(gain: Float32Array, n: number): Int32Array {
  const half = n >> 1;
  const turned = new Float32Array(gain.length);
  const width = ACROSS + 1;
  turned.set(gain.subarray(half * width), 0);
  turned.set(gain.subarray(0, half * width), (n - half) * width);
  const start = bestPath(gain, n, null)[half];
  const path = bestPath(turned, n, start);
  const back = new Int32Array(n);
  for (let i = 0; i < n; i++) back[(i + half) % n] = path[i];
  return back;
}

function bestPath(gain: Float32Array, n: number, ends: number | null): Int32Array {
  const width = ACROSS + 1;
  const best = new Float32Array(n * width);
  const from = new Int16Array(n * width);
  for (let k = 0; k < width; k++) best[k] = ends === null || k === ends ? gain[k] : Number.NEGATIVE_INFINITY;
  for (let i = 1; i < n; i++) {
    for (let k = 0; k < width; k++) {
      let top = Number.NEGATIVE_INFINITY;
      let origin = k;
      for (let j = Math.max(0, k - MOST_MOVE); j <= Math.min(width - 1, k + MOST_MOVE); j++) {
        const value = best[(i - 1) * width + j] - MOVE_COST * Math.abs(j - k);
        if (value > top) {
          top = value;
          origin = j;
        }
      }
      best[i * width + k] = top + gain[i * width + k];
      from[i * width + k] = origin;
    }
  }
  const path = new Int32Array(n);
  const last = (n - 1) * width;
  let k = 0;
  if (ends === null) {
    for (let j = 1; j < width; j++) if (best[last + j] > best[last + k]) k = j;
  } else {
    k = Math.max(0, ends - MOST_MOVE);
    for (let j = k; j <= Math.min(width - 1, ends + MOST_MOVE); j++) if (best[last + j] > best[last + k]) k = j;
  }
  for (let i = n - 1; i >= 0; i--) {
    path[i] = k;
    k = from[i * width + k];
  }
  return path;
}

/** Vertex of the parabola through the summed evidence at the path and its two neighbours. */
function refine(gain: Float32Array, i: number, k: number): number {
  if (k === 0 || k === ACROSS) return k;
  const row = i * (ACROSS + 1);
  const [a, b, c] = [gain[row + k - 1], gain[row + k], gain[row + k + 1]];
  const curve = a - 2 * b + c;
  return curve < -1e-6 ? k + Math.min(0.5, Math.max(-0.5, (0.5 * (a - c)) / curve)) : k;
}
