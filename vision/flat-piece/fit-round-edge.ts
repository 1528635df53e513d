import { invertSymmetric } from '../geometry/least-squares.ts';
import type { TablePoint } from '../reference/table-view.ts';

/** Highest harmonic of the smooth outline: centre, oval, three- and four-cornered; fewer for few points. */
const HARMONICS = 4;
const POINTS_FOR_ALL = 36;
/** Points farther out than this many robust standard deviations are no edge (a strand of yarn leaving the work). */
const OUTLIER = 3.2;

/** r(θ) about `centre`: mean + Σ (cos k θ, sin k θ) coefficients; lengths in the unit of the points. */
export interface RoundEdge {
  readonly centre: TablePoint;
  readonly coefficients: Float64Array;
  /** 1 for points used, 0 for outliers. */
  readonly weights: Float64Array;
  /** Point minus smooth outline, along the radius. */
  readonly residuals: Float64Array;
}

/** Smooth outline through edge points by least squares on the harmonics, outliers left out. */
export function fitRoundEdge(points: readonly TablePoint[], start: TablePoint): RoundEdge | null {
  let centre = start;
  let weights = new Float64Array(points.length).fill(1);
  let edge: RoundEdge | null = null;
  for (let round = 0; round < 6; round++) {
    edge = fitHarmonics(points, centre, weights);
    if (!edge) return null;
    centre = [centre[0] + edge.coefficients[1], centre[1] + edge.coefficients[2]];
    const sd = 1.4826 * median(Array.from(edge.residuals, Math.abs));
    weights = Float64Array.from(edge.residuals, (r) => (Math.abs(r) <= OUTLIER * sd + 1e-9 ? 1 : 0));
  }
  return edge;
}

/** One weighted linear fit about a fixed centre. */
export function fitHarmonics(
  points: readonly TablePoint[],
  centre: TablePoint,
  weights: Float64Array,
): RoundEdge | null {
  const highest = points.length < POINTS_FOR_ALL ? 2 : HARMONICS;
  const terms = 1 + 2 * highest;
  const normal = new Float64Array(terms * terms);
  const right = new Float64Array(terms);
  const rows = points.map(([x, y]) => harmonics(Math.atan2(y - centre[1], x - centre[0]), highest));
  const radii = points.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]));
  for (let i = 0; i < points.length; i++) {
    if (weights[i] === 0) continue;
    for (let a = 0; a < terms; a++) {
      right[a] += weights[i] * rows[i][a] * radii[i];
      for (let b = 0; b < terms; b++) normal[a * terms + b] += weights[i] * rows[i][a] * rows[i][b];
    }
  }
  const inverse = invertSymmetric(normal, terms);
  if (!inverse) return null;
  const coefficients = new Float64Array(terms);
  for (let a = 0; a < terms; a++) for (let b = 0; b < terms; b++) coefficients[a] += inverse[a * terms + b] * right[b];
  const residuals = Float64Array.from(radii, (r, i) => r - radiusAt(coefficients, rows[i]));
  return { centre, coefficients, weights, residuals };
}

/** Points of the smooth outline at evenly spread angles. */
export function roundEdgePoints({ centre, coefficients }: RoundEdge, count: number): TablePoint[] {
  return Array.from({ length: count }, (_, i): TablePoint => {
    const turn = (2 * Math.PI * i) / count;
    const r = radiusAt(coefficients, harmonics(turn, (coefficients.length - 1) / 2));
    return [centre[0] + r * Math.cos(turn), centre[1] + r * Math.sin(turn)];
  });
}

function harmonics(turn: number, highest: number): number[] {
  const row = [1];
  for (let k = 1; k <= highest; k++) row.push(Math.cos(k * turn), Math.sin(k * turn));
  return row;
}

function radiusAt(coefficients: Float64Array, row: readonly number[]): number {
  return row.reduce((sum, value, a) => sum + value * coefficients[a], 0);
}

/** Circle through points by algebraic least squares (Kåsa 1976), refitted without the farthest tenth. */
export function roughCircle(points: readonly TablePoint[]): { centre: TablePoint; radius: number } | null {
  let used = points;
  let circle: { centre: TablePoint; radius: number } | null = null;
  for (let round = 0; round < 4; round++) {
    const normal = new Float64Array(9);
    const right = [0, 0, 0];
    for (const [x, y] of used) {
      const row = [x, y, 1];
      for (let a = 0; a < 3; a++) {
        right[a] += row[a] * (x * x + y * y);
        for (let b = 0; b < 3; b++) normal[3 * a + b] += row[a] * row[b];
      }
    }
    const inverse = used.length >= 8 ? invertSymmetric(normal, 3) : null;
    if (!inverse) return circle;
    const [a, b, c] = [0, 1, 2].map(
      (k) => inverse[3 * k] * right[0] + inverse[3 * k + 1] * right[1] + inverse[3 * k + 2] * right[2],
    );
    const centre: TablePoint = [a / 2, b / 2];
    const radius = Math.sqrt(c + (a * a + b * b) / 4);
    if (!(radius > 0)) return circle;
    circle = { centre, radius };
    const off = points.map(([x, y]) => Math.abs(Math.hypot(x - centre[0], y - centre[1]) - radius));
    const limit = [...off].sort((p, q) => p - q)[Math.floor(0.9 * off.length)];
    used = points.filter((_, i) => off[i] <= limit);
  }
  return circle;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
