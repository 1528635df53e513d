import { invertSymmetric } from '../geometry/least-squares.ts';
import type { CoarsePicture } from './coarse-picture.ts';

/** 1, x, y, x², xy, y²: light falls off smoothly over a table. */
const TERMS = 6;
const ROUNDS = 6;
/** Squared distance beyond which a pixel hardly counts as table while its colours are learned. */
const DOUBTFUL = 9;
/** No table is evener than this in the logarithm of light; keeps plain tables from hearing every bit of noise. */
const LEAST_SPREAD = 0.03;

/**
 * Squared Mahalanobis distance of every pixel from the table's colour at its place. The colour is a smooth function of
 * place, fitted robustly to the pixels that are likely to be table.
 * @param likely  1 where the table may be learned from
 */
export function distanceFromTable(picture: CoarsePicture, likely: Uint8Array): Float32Array {
  const { widthPx, heightPx, logLight } = picture;
  const places = Int32Array.from(likely.keys()).filter((at) => likely[at] === 1);
  let weights = new Float64Array(places.length).fill(1);
  let distances: Float32Array = new Float32Array(likely.length);
  const all = Int32Array.from(likely.keys());
  for (let round = 0; round < ROUNDS; round++) {
    const last = round === ROUNDS - 1;
    const surfaces = logLight.map((plane) => fitSurface(plane, places, weights, widthPx, heightPx));
    const precision = invertSymmetric(spread(picture, surfaces, places, weights), 3);
    if (!precision) return distances;
    const wanted = last ? all : places;
    const squares = squaredDistances(picture, surfaces, precision, wanted);
    if (last) distances = squares;
    else weights = Float64Array.from(squares, (d) => 1 / (1 + (d / DOUBTFUL) ** 2));
  }
  return distances;
}

function terms(at: number, widthPx: number, heightPx: number): number[] {
  const x = ((at % widthPx) / widthPx) * 2 - 1;
  const y = (Math.floor(at / widthPx) / heightPx) * 2 - 1;
  return [1, x, y, x * x, x * y, y * y];
}

function fitSurface(
  plane: Float32Array,
  places: Int32Array,
  weights: Float64Array,
  widthPx: number,
  heightPx: number,
): Float64Array {
  const normal = new Float64Array(TERMS * TERMS);
  const right = new Float64Array(TERMS);
  places.forEach((at, i) => {
    const row = terms(at, widthPx, heightPx);
    for (let a = 0; a < TERMS; a++) {
      right[a] += weights[i] * row[a] * plane[at];
      for (let b = 0; b < TERMS; b++) normal[a * TERMS + b] += weights[i] * row[a] * row[b];
    }
  });
  for (let a = 1; a < TERMS; a++) normal[a * TERMS + a] += 0.01 * places.length;
  const inverse = invertSymmetric(normal, TERMS);
  const surface = new Float64Array(TERMS);
  for (let a = 0; inverse && a < TERMS; a++) {
    for (let b = 0; b < TERMS; b++) surface[a] += inverse[a * TERMS + b] * right[b];
  }
  return surface;
}

function residual(plane: Float32Array, surface: Float64Array, at: number, row: readonly number[]): number {
  let value = plane[at];
  for (let a = 0; a < TERMS; a++) value -= surface[a] * row[a];
  return value;
}

function spread(
  { logLight, widthPx, heightPx }: CoarsePicture,
  surfaces: readonly Float64Array[],
  places: Int32Array,
  weights: Float64Array,
): Float64Array {
  const sums = new Float64Array(9);
  let total = 0;
  places.forEach((at, i) => {
    const row = terms(at, widthPx, heightPx);
    const r = logLight.map((plane, k) => residual(plane, surfaces[k], at, row));
    for (let a = 0; a < 3; a++) for (let b = 0; b < 3; b++) sums[3 * a + b] += weights[i] * r[a] * r[b];
    total += weights[i];
  });
  for (let a = 0; a < 9; a++) sums[a] = sums[a] / total + (a % 4 === 0 ? LEAST_SPREAD ** 2 : 0);
  return sums;
}

function squaredDistances(
  { logLight, widthPx, heightPx }: CoarsePicture,
  surfaces: readonly Float64Array[],
  precision: Float64Array,
  places: Int32Array,
): Float32Array {
  return Float32Array.from(places, (at) => {
    const row = terms(at, widthPx, heightPx);
    const [r, g, b] = logLight.map((plane, k) => residual(plane, surfaces[k], at, row));
    const p = precision;
    return p[0] * r * r + p[4] * g * g + p[8] * b * b + 2 * (p[1] * r * g + p[2] * r * b + p[5] * g * b);
  });
}
