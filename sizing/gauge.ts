import { type Estimate, rootSumOfSquares } from './estimate.ts';
import { type Field, requireInRange, requireOneOf, requireWhole } from './refusal.ts';
import { FABRIC_STITCHES, type FabricStitch, STITCH_FACTS } from './stitches.ts';
import { categoryOfStitchWidth, categoryStitchWidthMm, YARN_CATEGORIES, type YarnCategory } from './yarn-standards.ts';

export const FIBRES = ['cotton', 'wool', 'acrylic', 'linen', 'other'] as const;
export type Fibre = (typeof FIBRES)[number];

/** One strand of the yarn as it is sold. */
export interface Yarn {
  readonly metresPer100g: number;
  readonly ballGrams: number;
  readonly fibre: Fibre;
  readonly pricePerBall: number | null;
  /** Length per mass is a guess, not read off a label. */
  readonly assumed?: boolean;
}

/** How the maker works: sizes measured in the round, with the strands held together that the plan is for. */
export interface Gauge {
  /** `measured` by the maker, or a `guess` from the yarn band. */
  readonly origin: 'measured' | 'guess';
  readonly stitch: FabricStitch;
  readonly stitchWidthMm: Estimate;
  readonly roundHeightMm: Estimate;
  /** Correlation of the relative errors of width and height; both follow the hand's tension. */
  readonly correlation: number;
  readonly strands: number;
  readonly hookMm: number | null;
  readonly yarn: Yarn;
  /** Length of one chain, from a sample of about 20; null: taken as the stitch width. */
  readonly chainLengthMm: Estimate | null;
  /** A mesh swatch: the half-loop ("bar") of a chain loop caught in its middle. */
  readonly meshSwatch: { readonly chains: number; readonly barMm: Estimate } | null;
  /** Length of one strand in one base stitch, unravelled or weighed from a swatch. */
  readonly yarnPerStitchMm: Estimate | null;
  /** A sample of the cord: yarn (one strand) per length of cord, and length of one cord stitch. */
  readonly cordSample: { readonly yarnPerLength: Estimate; readonly stitchLengthMm: Estimate } | null;
  readonly stitchesPerMinute: number | null;
}

/**
 * Tension differs between swatch and work by about this share: common practice, no source. It is common to width and
 * height, the reading errors are not.
 */
const TENSION_DRIFT = 0.025;

/** Spread of h/w between makers of one stitch: eleven leaflets, 0.049 on 0.898 (derived). */
const HEIGHT_RATIO_RELATIVE_SD = 0.055;

/**
 * How stitch width follows the hook: category 3 is 7.0 mm at its middle hook of 5 mm, a cotton leaflet of that
 * category has 6.25 mm at 4 mm (derived from one leaflet).
 */
const WIDTH_HOOK_EXPONENT = 0.5;

/** Width grows with the number of strands as 1/WPI: factor 0.67 for two (derived, 0.5-0.78). */
const WIDTH_STRANDS_EXPONENT = 0.58;

/** Light (DK) cotton of a yarn company's leaflet. */
const DEFAULT_YARN: Yarn = { metresPer100g: 193, ballGrams: 50, fibre: 'cotton', pricePerBall: null, assumed: true };

/** Cotton is shorter than the tables' yarn of the same category: that leaflet's 193 m over the 224 m of its category. */
export const COTTON_LENGTH_SHARE = 193 / Math.sqrt(200 * 250);

/**
 * A first gauge for light (DK) cotton, 4 mm hook, base in US double crochet: 16 single crochet on 10 cm (a yarn
 * company's leaflet, published), dc 1.61 times as high as wide (published). A guess: replace it by a swatch.
 */
export function defaultGauge(stitch: FabricStitch = 'dc'): Gauge {
  return guessedGauge({ stitch, widthMm: 6.25, widthRelativeSd: 0.08, hookMm: 4, strands: 1, yarn: DEFAULT_YARN });
}

export interface CategoryGuess {
  readonly stitch?: FabricStitch;
  readonly hookMm?: number;
  readonly strands?: number;
  readonly yarn?: Partial<Yarn>;
}

/**
 * A first gauge from the yarn's category number (0-7) alone, marked as a guess with a wide uncertainty. Without a hook
 * it assumes the smallest of the category's band, as carriers are worked firmly (common practice).
 */
export function gaugeFromYarnCategory(categoryNumber: number, guess: CategoryGuess = {}): Gauge {
  requireWhole('gauge.category', categoryNumber, 0, 7);
  const category = YARN_CATEGORIES[categoryNumber];
  const strands = guess.strands ?? 1;
  requireWhole('gauge.strands', strands, 1, 12);
  const thickness = strands ** WIDTH_STRANDS_EXPONENT;
  const hookMm = guess.hookMm ?? category.hookMm[0] * thickness;
  requireInRange('gauge.hookMm', hookMm, 0.5, 60, 'mm');
  const middleHookMm = ((category.hookMm[0] + category.hookMm[1]) / 2) * thickness;
  const [fewest, most] = category.stitchesPer4In;
  const bandRelativeSd = (most - fewest) / (most + fewest) / Math.sqrt(3);
  const strandsRelativeSd = strands === 1 ? 0 : 0.15;
  return guessedGauge({
    stitch: guess.stitch ?? 'dc',
    widthMm: categoryStitchWidthMm(category) * thickness * (hookMm / middleHookMm) ** WIDTH_HOOK_EXPONENT,
    widthRelativeSd: rootSumOfSquares(bandRelativeSd, 0.08, strandsRelativeSd),
    hookMm,
    strands,
    yarn: yarnFrom(category, guess.yarn),
  });
}

export interface Swatch {
  readonly stitch: FabricStitch;
  /** Stitches counted along `widthMm` and rounds counted along `heightMm`, worked in the round. */
  readonly stitches: number;
  readonly widthMm: number;
  readonly rounds: number;
  readonly heightMm: number;
  /** Standard uncertainty of each length read, default 1 mm. */
  readonly sdMm?: number;
  readonly strands?: number;
  readonly hookMm?: number | null;
  readonly yarn?: Partial<Yarn>;
}

/** Gauge from a swatch: reading error, a quarter stitch of counting error, and the drift of the hand's tension. */
export function gaugeFromSwatch(swatch: Swatch): Gauge {
  const sdMm = swatch.sdMm ?? 1;
  requireInRange('swatch.stitches', swatch.stitches, 1, 500, '');
  requireInRange('swatch.rounds', swatch.rounds, 1, 500, '');
  requireInRange('swatch.widthMm', swatch.widthMm, 5, 2000, 'mm');
  requireInRange('swatch.heightMm', swatch.heightMm, 5, 2000, 'mm');
  const width = readingRelativeSd(swatch.stitches, swatch.widthMm, sdMm);
  const height = readingRelativeSd(swatch.rounds, swatch.heightMm, sdMm);
  const widthMm = swatch.widthMm / swatch.stitches;
  const heightMm = swatch.heightMm / swatch.rounds;
  return {
    origin: 'measured',
    stitch: swatch.stitch,
    stitchWidthMm: { value: widthMm, sd: widthMm * rootSumOfSquares(width, TENSION_DRIFT) },
    roundHeightMm: { value: heightMm, sd: heightMm * rootSumOfSquares(height, TENSION_DRIFT) },
    correlation: TENSION_DRIFT ** 2 / Math.hypot(width, TENSION_DRIFT) / Math.hypot(height, TENSION_DRIFT),
    strands: swatch.strands ?? 1,
    hookMm: swatch.hookMm ?? null,
    yarn: yarnFrom(categoryOfStitchWidth(widthMm / (swatch.strands ?? 1) ** WIDTH_STRANDS_EXPONENT), swatch.yarn),
    ...NOTHING_SAMPLED,
  };
}

/** A yarn as far as it is known; its length per mass assumed from the category when no label was read. */
function yarnFrom({ metresPer100g: [shortest, longest] }: YarnCategory, known: Partial<Yarn> = {}): Yarn {
  const fibre = known.fibre ?? DEFAULT_YARN.fibre;
  const metresPer100g = Math.round(Math.sqrt(shortest * longest) * (fibre === 'cotton' ? COTTON_LENGTH_SHARE : 1));
  return { ...DEFAULT_YARN, metresPer100g, assumed: known.metresPer100g === undefined, ...known };
}

/** Height of a round of any stitch in this gauge, scaled from the base stitch by the published height ratios. */
export function roundHeightMm(gauge: Gauge, stitch: FabricStitch): number {
  return (
    (gauge.roundHeightMm.value * STITCH_FACTS[stitch].heightOverWidth) / STITCH_FACTS[gauge.stitch].heightOverWidth
  );
}

/** Length of one chain: sampled, or the stitch width, since a foundation chain of n carries a row of n stitches. */
export function chainLengthMm(gauge: Gauge): number {
  return gauge.chainLengthMm?.value ?? gauge.stitchWidthMm.value;
}

/** Refuses a gauge outside what hands and yarn can make, naming the field. */
export function checkGauge(gauge: Gauge): void {
  requireOneOf('gauge.stitch', gauge.stitch, FABRIC_STITCHES);
  checkLength('gauge.stitchWidthMm', gauge.stitchWidthMm, 0.8, 40);
  checkLength('gauge.roundHeightMm', gauge.roundHeightMm, 0.8, 100);
  const ratio = gauge.roundHeightMm.value / gauge.stitchWidthMm.value;
  const usual = STITCH_FACTS[gauge.stitch].heightOverWidth;
  requireInRange('gauge.roundHeightMm / gauge.stitchWidthMm', ratio, usual * 0.5, usual * 1.8, '');
  requireInRange('gauge.correlation', gauge.correlation, -0.99, 1, '');
  requireWhole('gauge.strands', gauge.strands, 1, 12);
  if (gauge.hookMm !== null) requireInRange('gauge.hookMm', gauge.hookMm, 0.5, 60, 'mm');
  requireInRange('gauge.yarn.metresPer100g', gauge.yarn.metresPer100g, 5, 2000, 'm');
  requireInRange('gauge.yarn.ballGrams', gauge.yarn.ballGrams, 1, 5000, 'g');
  requireOneOf('gauge.yarn.fibre', gauge.yarn.fibre, FIBRES);
  if (gauge.yarn.pricePerBall !== null) requireInRange('gauge.yarn.pricePerBall', gauge.yarn.pricePerBall, 0, 1e6, '');
  checkSamples(gauge);
}

function checkSamples(gauge: Gauge): void {
  const widthMm = gauge.stitchWidthMm.value;
  if (gauge.chainLengthMm) checkLength('gauge.chainLengthMm', gauge.chainLengthMm, widthMm * 0.4, widthMm * 2);
  if (gauge.meshSwatch) {
    requireWhole('gauge.meshSwatch.chains', gauge.meshSwatch.chains, 1, 20);
    const guessMm = ((gauge.meshSwatch.chains + 1) * widthMm) / 2;
    checkLength('gauge.meshSwatch.barMm', gauge.meshSwatch.barMm, guessMm * 0.4, guessMm * 2);
  }
  if (gauge.yarnPerStitchMm) {
    checkLength('gauge.yarnPerStitchMm', gauge.yarnPerStitchMm, widthMm * 3, widthMm * 60);
  }
  if (gauge.cordSample) {
    checkLength('gauge.cordSample.yarnPerLength', gauge.cordSample.yarnPerLength, 3, 40);
    checkLength('gauge.cordSample.stitchLengthMm', gauge.cordSample.stitchLengthMm, widthMm * 0.2, widthMm * 3);
  }
  if (gauge.stitchesPerMinute !== null) {
    // The upper end is a published record over 30 minutes.
    requireInRange('gauge.stitchesPerMinute', gauge.stitchesPerMinute, 1, 170, '');
  }
}

function checkLength(field: Field, length: Estimate, min: number, max: number): void {
  requireInRange(field, length.value, min, max, 'mm');
  requireInRange(`${field}.sd`, length.sd, 0, length.value / 2, 'mm');
}

const NOTHING_SAMPLED = {
  chainLengthMm: null,
  meshSwatch: null,
  yarnPerStitchMm: null,
  cordSample: null,
  stitchesPerMinute: null,
} as const;

interface Guess {
  readonly stitch: FabricStitch;
  readonly widthMm: number;
  readonly widthRelativeSd: number;
  readonly hookMm: number;
  readonly strands: number;
  readonly yarn: Yarn;
}

function guessedGauge({ stitch, widthMm, widthRelativeSd, hookMm, strands, yarn }: Guess): Gauge {
  const heightMm = widthMm * STITCH_FACTS[stitch].heightOverWidth;
  const heightRelativeSd = rootSumOfSquares(widthRelativeSd, HEIGHT_RATIO_RELATIVE_SD);
  return {
    origin: 'guess',
    stitch,
    stitchWidthMm: { value: widthMm, sd: widthMm * widthRelativeSd },
    roundHeightMm: { value: heightMm, sd: heightMm * heightRelativeSd },
    correlation: widthRelativeSd / heightRelativeSd,
    strands,
    hookMm,
    yarn,
    ...NOTHING_SAMPLED,
  };
}

function readingRelativeSd(count: number, lengthMm: number, sdMm: number): number {
  return rootSumOfSquares(sdMm / lengthMm, 0.25 / count);
}
