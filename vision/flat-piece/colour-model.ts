import { colourShares } from '../picture/colour-shares.ts';
import { LINEAR_LIGHT } from '../reference/sample-photo.ts';
import { DARK_LEVEL } from './coarse-picture.ts';

/** Bins of lightness and of two colour ratios, all of the logarithm of light, so that a shadow only moves lightness. */
const LIGHT_BINS = 32;
const HUE_BINS = 24;
const BIN_COUNT = LIGHT_BINS * HUE_BINS * HUE_BINS;
const LOG_DARKEST = Math.log(DARK_LEVEL);
const LOG_BRIGHTEST = Math.log(255 + DARK_LEVEL);
/** Range of the colour ratios that gets bins of its own: a factor of five either way. */
const HUE_RANGE = 1.6;

/** How dark a shadow on a table gets, as factors on its light; darkest where the work touches it. */
const SHADOW_FACTORS = [0.18, 0.23, 0.29, 0.36, 0.45, 0.55, 0.65, 0.75, 0.85, 0.93];
/** Yarn gets darker where it curves under towards the table: how dark. */
const UNDERSIDE_FACTORS = [0.3, 0.45, 0.6, 0.8];
/** Share of pixels at an edge that blur has mixed from yarn and table, and the mixtures: more than half yarn is yarn. */
const MIXED_SHARE = 0.2;
const MIXTURES = [0.6, 0.7, 0.8, 0.9];
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

/** How dark things next to the edge come about: shares of the table in shadow and of the yarn curving under. */
export interface Darkness {
  readonly shadowShare: number;
  readonly undersideShare: number;
}

export function learnColours(
  yarn: readonly LogColour[],
  ground: readonly LogColour[],
  { shadowShare, undersideShare }: Darkness,
): ColourModel {
  const [yarnLight, groundLight] = [yarn.map(lightOf), ground.map(lightOf)];
  const shaded = inShadow(groundLight);
  const underside = UNDERSIDE_FACTORS.flatMap((factor) => yarnLight.map((light) => scaled(light, factor)));
  const mostlyYarn = MIXTURES.flatMap((share) => mixed(yarnLight, groundLight, share));
  const mostlyGround = MIXTURES.flatMap((share) => mixed(groundLight, yarnLight, share));
  const pure = 1 - MIXED_SHARE - NEW_SHARE;
  const [onlyYarn, under, lit, dark, yarnMix, groundMix] = [
    yarnLight,
    underside,
    groundLight,
    shaded,
    mostlyYarn,
    mostlyGround,
  ].map(histogram);
  const table = new Float32Array(BIN_COUNT);
  for (let b = 0; b < BIN_COUNT; b++) {
    const p =
      pure * ((1 - undersideShare) * onlyYarn[b] + undersideShare * under[b]) +
      MIXED_SHARE * yarnMix[b] +
      NEW_SHARE * UNIFORM;
    const q =
      pure * ((1 - shadowShare) * lit[b] + shadowShare * dark[b]) + MIXED_SHARE * groundMix[b] + NEW_SHARE * UNIFORM;
    table[b] = Math.min(Math.max(Math.log(p / q), -MOST), MOST);
  }
  return { evidence: (red, green, blue) => table[binOf(red, green, blue)] };
}

/** Share of the table's possible shadows, all depths alike, that a model takes for yarn. */
export function shadowsTakenForYarn(model: ColourModel, ground: readonly LogColour[]): number {
  const shaded = inShadow(ground.map(lightOf));
  const taken = shaded.filter((one) => {
    const [red, green, blue] = one.map((level) => Math.log(level + DARK_LEVEL));
    return model.evidence(red, green, blue) > 0;
  });
  return taken.length / shaded.length;
}

type Light = readonly [number, number, number];

function inShadow(ground: readonly Light[]): Light[] {
  return SHADOW_FACTORS.flatMap((factor) => ground.map((light) => scaled(light, factor)));
}

function lightOf(colour: LogColour): Light {
  return [Math.exp(colour[0]) - DARK_LEVEL, Math.exp(colour[1]) - DARK_LEVEL, Math.exp(colour[2]) - DARK_LEVEL];
}

function scaled([r, g, b]: Light, factor: number): Light {
  return [r * factor, g * factor, b * factor];
}

/** Light of pixels that hold `share` of one colour and the rest of another, paired all through both lists. */
function mixed(one: readonly Light[], other: readonly Light[], share: number): Light[] {
  return one.map((a, i) => {
    const b = other[(i * 7919) % other.length];
    return [0, 1, 2].map((k) => share * a[k] + (1 - share) * b[k]) as unknown as Light;
  });
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

function histogram(colours: readonly Light[]): Float32Array {
  const counts = new Float32Array(BIN_COUNT);
  for (const [r, g, b] of colours) {
    counts[binOf(Math.log(r + DARK_LEVEL), Math.log(g + DARK_LEVEL), Math.log(b + DARK_LEVEL))]++;
  }
  return colourShares(counts, [HUE_BINS, HUE_BINS, LIGHT_BINS]);
}
