import type { EdgeField } from './edge-field.ts';

/** A straight piece of edge in the working image. */
export interface Segment {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly length: number;
  /** Unit direction from end 0 to end 1. */
  readonly ux: number;
  readonly uy: number;
  /** Mean edge strength along the piece. */
  readonly strength: number;
  /** Share of the length on which an edge was really seen; < 1 where collinear pieces were joined over gaps. */
  readonly covered: number;
}

/** Lines start at ridge pixels at least this strong, and at least as strong as the picture's typical noise ridge. */
const MIN_SEED_STRENGTH = 0.7;
/** On lively grounds half of all ridges are real edges; a white card on white still has 2 levels per px. */
const MAX_SEED_STRENGTH = 1.5;
const MAX_RMS_PX = 0.75;

const UNTOUCHED = 0;
/** Led nowhere once: not started from again, but may still become part of another line. */
const TRIED = 1;
const USED = 2;

/** Pixels without an edge that a growing line steps over: the gap between two stripes that run into a border. */
const MAX_GAP_PX = 5;
const MIN_LENGTH_PX = 14;
/** Share of its length on which a line must have been seen. */
const MIN_SEEN = 0.5;
/** Not worth a second look: noise gives thousands of these. */
const HOPELESS_LENGTH_PX = 9;
/** |cos| between a pixel's normal and the line's: 0.9 is 26 degrees, what noise does to a faint edge. */
const MIN_ALIGNMENT = 0.9;

/**
 * Straight pieces of edge, longest and strongest first. Each is grown from its strongest pixel along the ridge of the
 * edge field, while a line through everything gathered so far still predicts the next ridge pixel.
 */
export function lineSegments(field: EdgeField): Segment[] {
  const ridge = ridgePixels(field);
  const taken = new Uint8Array(field.strength.length);
  const found: Segment[] = [];
  const grower = new LineGrower(field, ridge.isRidge, taken);
  for (const seed of ridge.strongestFirst) {
    if (taken[seed] !== UNTOUCHED) continue;
    const segment = grower.growFrom(seed);
    if (segment) found.push(segment);
  }
  return found;
}

/** Ridge: strength not below that of either neighbour across the edge. Sorted by strength in 256 steps, strongest first. */
function ridgePixels(field: EdgeField): { isRidge: Uint8Array; strongestFirst: Int32Array } {
  const { widthPx: width, heightPx: height, strength, normalX, normalY } = field;
  const isRidge = new Uint8Array(strength.length);
  const ridge: number[] = [];
  for (let y = 2; y < height - 2; y++) {
    for (let i = y * width + 2; i < y * width + width - 2; i++) {
      const s = strength[i];
      if (s === 0) continue;
      const nx = normalX[i];
      const ny = normalY[i];
      const ax = Math.abs(nx);
      const ay = Math.abs(ny);
      const step = nx * ny >= 0 ? width + 1 : width - 1;
      let ahead: number;
      let behind: number;
      if (ax >= ay) {
        const t = ay / ax;
        const diagonal = nx * ny >= 0 ? step : -step;
        ahead = strength[i + 1] * (1 - t) + strength[i + diagonal] * t;
        behind = strength[i - 1] * (1 - t) + strength[i - diagonal] * t;
      } else {
        const t = ax / ay;
        ahead = strength[i + width] * (1 - t) + strength[i + step] * t;
        behind = strength[i - width] * (1 - t) + strength[i - step] * t;
      }
      if (s < ahead || s <= behind) continue;
      isRidge[i] = 1;
      ridge.push(i);
    }
  }
  return { isRidge, strongestFirst: sortByStrength(ridge, strength) };
}

/** Counting sort in steps of 1/16 grey level, strongest first, without the weak half: that is mostly noise. */
function sortByStrength(pixels: readonly number[], strength: Float32Array): Int32Array {
  const bins = 512;
  const binOf = (i: number): number => bins - 1 - Math.min(bins - 1, (strength[i] * 16) | 0);
  const start = new Int32Array(bins + 1);
  for (const i of pixels) start[binOf(i) + 1]++;
  for (let b = 1; b <= bins; b++) start[b] += start[b - 1];
  const sorted = new Int32Array(pixels.length);
  for (const i of pixels) sorted[start[binOf(i)]++] = i;
  const typical = strength[sorted[sorted.length >> 1]];
  const threshold = Math.max(MIN_SEED_STRENGTH, Math.min(typical, MAX_SEED_STRENGTH));
  let count = sorted.length;
  while (count > 0 && strength[sorted[count - 1]] < threshold) count--;
  return sorted.subarray(0, count);
}

/** Grows one line at a time; keeps its buffers between lines. */
class LineGrower {
  readonly #field: EdgeField;
  readonly #isRidge: Uint8Array;
  readonly #taken: Uint8Array;
  readonly #pixels = new Int32Array(8192);
  #count = 0;
  #sumX = 0;
  #sumY = 0;
  #sumXX = 0;
  #sumXY = 0;
  #sumYY = 0;
  #sumStrength = 0;
  // the line: a point and a unit direction
  #x = 0;
  #y = 0;
  #ux = 0;
  #uy = 0;

  constructor(field: EdgeField, isRidge: Uint8Array, taken: Uint8Array) {
    this.#field = field;
    this.#isRidge = isRidge;
    this.#taken = taken;
  }

  growFrom(seed: number): Segment | null {
    const { widthPx: width, normalX, normalY } = this.#field;
    this.#count = this.#sumX = this.#sumY = this.#sumXX = this.#sumXY = this.#sumYY = this.#sumStrength = 0;
    this.#x = seed % width;
    this.#y = (seed / width) | 0;
    this.#ux = -normalY[seed];
    this.#uy = normalX[seed];
    this.#add(seed);
    const low = this.#walk(-1);
    const high = this.#walk(1);
    if (high - low < HOPELESS_LENGTH_PX) return this.#giveUp();
    // twice each way: the second pass starts from a settled direction
    const start = Math.min(low, this.#walk(-1, low));
    const end = Math.max(high, this.#walk(1, high));
    return this.#finish(seed, start, end);
  }

  /** Follows the ridge from the position `from` (px along the line, as an offset from the seed) and returns where it ends. */
  #walk(sign: 1 | -1, from = 0): number {
    const { widthPx: width, heightPx: height, normalX, normalY } = this.#field;
    let last = from;
    let along = from;
    let gap = 0;
    const seedX = this.#pixels[0] % width;
    const seedY = (this.#pixels[0] / width) | 0;
    while (gap <= MAX_GAP_PX && this.#count < this.#pixels.length) {
      along += sign;
      // the line moves while it grows: place the seed on it again
      const offset = (seedX - this.#x) * this.#ux + (seedY - this.#y) * this.#uy + along;
      const px = this.#x + offset * this.#ux;
      const py = this.#y + offset * this.#uy;
      const steep = Math.abs(this.#uy) > Math.abs(this.#ux);
      const cx = Math.round(px);
      const cy = Math.round(py);
      if (cx < 2 || cy < 2 || cx >= width - 2 || cy >= height - 2) break;
      let best = -1;
      let bestDistance = 1.6;
      for (let k = -2; k <= 2; k++) {
        const x = steep ? cx + k : cx;
        const y = steep ? cy : cy + k;
        const i = y * width + x;
        if (this.#isRidge[i] === 0 || this.#taken[i] === USED) continue;
        if (Math.abs(normalX[i] * this.#uy - normalY[i] * this.#ux) < MIN_ALIGNMENT) continue;
        const distance = Math.abs((x - px) * this.#uy - (y - py) * this.#ux);
        if (distance < bestDistance) {
          bestDistance = distance;
          best = i;
        }
      }
      if (best < 0) {
        gap++;
        continue;
      }
      gap = 0;
      last = along;
      if (best !== this.#pixels[this.#count - 1]) this.#add(best);
    }
    return last;
  }

  #add(pixel: number): void {
    const { widthPx: width, strength } = this.#field;
    const x = pixel % width;
    const y = (pixel / width) | 0;
    this.#pixels[this.#count++] = pixel;
    this.#sumX += x;
    this.#sumY += y;
    this.#sumXX += x * x;
    this.#sumXY += x * y;
    this.#sumYY += y * y;
    this.#sumStrength += strength[pixel];
    if (this.#count >= 8 && (this.#count < 24 || this.#count % 4 === 0)) this.#fit();
  }

  /** Total least squares line through the gathered pixels, keeping its sense. */
  #fit(): number {
    const n = this.#count;
    this.#x = this.#sumX / n;
    this.#y = this.#sumY / n;
    const xx = this.#sumXX / n - this.#x * this.#x;
    const yy = this.#sumYY / n - this.#y * this.#y;
    const xy = this.#sumXY / n - this.#x * this.#y;
    const half = 0.5 * (xx - yy);
    const root = Math.sqrt(half * half + xy * xy);
    const u = half >= 0 ? root + half : xy;
    const v = half >= 0 ? xy : root - half;
    const length = Math.sqrt(u * u + v * v) || 1;
    const sign = u * this.#ux + v * this.#uy < 0 ? -1 : 1;
    this.#ux = (sign * u) / length;
    this.#uy = (sign * v) / length;
    return Math.max(0, 0.5 * (xx + yy) - root);
  }

  /** What led nowhere once is not started from again, but may still become part of another line. */
  #giveUp(): null {
    const taken = this.#taken;
    for (let k = 0; k < this.#count; k++) if (taken[this.#pixels[k]] === UNTOUCHED) taken[this.#pixels[k]] = TRIED;
    return null;
  }

  #finish(seed: number, start: number, end: number): Segment | null {
    const { widthPx: width } = this.#field;
    const length = end - start;
    if (length < MIN_LENGTH_PX || this.#count < MIN_SEEN * length) return this.#giveUp();
    if (this.#fit() > MAX_RMS_PX * MAX_RMS_PX) return this.#giveUp();
    for (let k = 0; k < this.#count; k++) this.#taken[this.#pixels[k]] = USED;
    const middle = (seed % width) - this.#x;
    const down = ((seed / width) | 0) - this.#y;
    const offset = middle * this.#ux + down * this.#uy;
    return segment(
      this.#x + (offset + start) * this.#ux,
      this.#y + (offset + start) * this.#uy,
      this.#x + (offset + end) * this.#ux,
      this.#y + (offset + end) * this.#uy,
      this.#sumStrength / this.#count,
      1,
    );
  }
}

export function segment(x0: number, y0: number, x1: number, y1: number, strength: number, covered: number): Segment {
  const length = Math.hypot(x1 - x0, y1 - y0);
  return { x0, y0, x1, y1, length, ux: (x1 - x0) / length, uy: (y1 - y0) / length, strength, covered };
}
