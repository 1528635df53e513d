import { LINEAR_LIGHT } from '../card/sample-photo.ts';
import { DARK_LEVEL } from './coarse-picture.ts';

/** Bins of lightness and of two colour ratios, all of the logarithm of light, so that a shadow only moves lightness. */
const LIGHT_BINS = 32;
const HUE_BINS = 24;
const BIN_COUNT = LIGHT_BINS * HUE_BINS * HUE_BINS;
const LOG_DARKEST = Math.log(DARK_LEVEL);
const LOG_BRIGHTEST = Math.log(255 + DARK_LEVEL);
/** Range of the colour ratios that gets bins of its own: a factor of five either way. */
const HUE_RANGE = 1.6;

/** How dark a shadow on a table gets, as factors on its light. */
const SHADOW_FACTORS = [0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.93];
/** Share of the ground close to the work that lies in its shadow. */
const SHADOW_SHARE = 0.4;
/** Colours never seen while learning, in yarn and on the ground. */
const NEW_SHARE = 0.05;
const UNIFORM = 1 / 600;
/** No single pixel decides. */
const MOST = 2.5;

/** Evidence for "yarn" against "table, lit or in shadow": log ratio of smoothed colour histograms. */
export interface ColourModel {
  /** Log-likelihood ratio of one colour given as logarithms of light. */
  evidence(logRed: number, logGreen: number, logBlue: number): number;
}

export type LogColour = readonly [number, number, number];

export function learnColours(yarn: readonly LogColour[], ground: readonly LogColour[]): ColourModel {
  const yarnShare = shares(yarn, [1]);
  const lit = shares(ground, [1]);
  const shaded = shares(ground, SHADOW_FACTORS);
  const table = new Float32Array(BIN_COUNT);
  for (let b = 0; b < BIN_COUNT; b++) {
    const p = (1 - NEW_SHARE) * yarnShare[b] + NEW_SHARE * UNIFORM;
    const q = (1 - NEW_SHARE) * ((1 - SHADOW_SHARE) * lit[b] + SHADOW_SHARE * shaded[b]) + NEW_SHARE * UNIFORM;
    table[b] = Math.min(Math.max(Math.log(p / q), -MOST), MOST);
  }
  return { evidence: (red, green, blue) => table[binOf(red, green, blue)] };
}

/** Logarithms of light of an 8-bit display value. */
export const LOG_LIGHT = Float32Array.from({ length: 256 }, (_, level) => Math.log(LINEAR_LIGHT[level] + DARK_LEVEL));

function binOf(red: number, green: number, blue: number): number {
  const lightness = (red + green + blue) / 3;
  const l = ((lightness - LOG_DARKEST) / (LOG_BRIGHTEST - LOG_DARKEST)) * LIGHT_BINS;
  const a = ((red - green) / (2 * HUE_RANGE) + 0.5) * HUE_BINS;
  const b = (((red + green) / 2 - blue) / (2 * HUE_RANGE) + 0.5) * HUE_BINS;
  return (clampBin(l, LIGHT_BINS) * HUE_BINS + clampBin(a, HUE_BINS)) * HUE_BINS + clampBin(b, HUE_BINS);
}

function clampBin(value: number, bins: number): number {
  return Math.min(bins - 1, Math.max(0, Math.floor(value)));
}

/** Histogram of the colours under every light factor, smoothed over neighbouring bins, with sum 1. */
function shares(colours: readonly LogColour[], factors: readonly number[]): Float32Array {
  let smooth = new Float32Array(BIN_COUNT);
  for (const factor of factors) {
    for (const colour of colours) {
      const [r, g, b] = colour.map((value) => {
        const light = Math.exp(value) - DARK_LEVEL;
        return Math.log(Math.max(0, light) * factor + DARK_LEVEL);
      });
      smooth[binOf(r, g, b)]++;
    }
  }
  for (const [step, bins] of [
    [1, HUE_BINS],
    [HUE_BINS, HUE_BINS],
    [HUE_BINS * HUE_BINS, LIGHT_BINS],
  ]) {
    const next = new Float32Array(BIN_COUNT);
    for (let b = 0; b < BIN_COUNT; b++) {
      const place = Math.floor(b / step) % bins;
      next[b] =
        0.5 * smooth[b] +
        0.25 * (place > 0 ? smooth[b - step] : smooth[b]) +
        0.25 * (place < bins - 1 ? smooth[b + step] : smooth[b]);
    }
    smooth = next;
  }
  let sum = 0;
  for (const value of smooth) sum += value;
  return sum > 0 ? smooth.map((value) => value / sum) : smooth;
}
