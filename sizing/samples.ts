import type { Estimate } from './estimate.ts';
import type { Gauge } from './gauge.ts';
import { requireInRange } from './refusal.ts';

/** Counting is exact; a length of yarn pulled straight by hand is good to this share: common practice, no source. */
const STRAIGHTENING_RELATIVE_SD = 0.02;

export interface WeighedSwatch {
  readonly grams: number;
  readonly stitches: number;
  readonly metresPer100g: number;
  readonly strands: number;
  /** Standard uncertainty of the scale, default 0.1 g. */
  readonly scaleSdG?: number;
}

/** Yarn of one strand in one stitch from a swatch of one stitch, weighed: mass x length per mass / stitches. */
export function yarnPerStitchByWeight(swatch: WeighedSwatch): Estimate {
  const { grams, stitches, metresPer100g, strands, scaleSdG = 0.1 } = swatch;
  requireInRange('swatch.grams', grams, 0.1, 2000, 'g');
  requireInRange('swatch.stitches', stitches, 1, 100_000, '');
  requireInRange('swatch.metresPer100g', metresPer100g, 5, 2000, 'm');
  const value = (grams * metresPer100g * 10) / (stitches * strands);
  return { value, sd: value * Math.min(0.5, scaleSdG / grams) };
}

/** Yarn in one stitch from about ten unravelled ones, measured unstretched (published method). */
export function yarnPerStitchByUnravelling(stitches: number, lengthMm: number): Estimate {
  requireInRange('swatch.stitches', stitches, 1, 1000, '');
  requireInRange('swatch.lengthMm', lengthMm, 10, 100_000, 'mm');
  const value = lengthMm / stitches;
  return { value, sd: value * Math.hypot(STRAIGHTENING_RELATIVE_SD, 2 / lengthMm) };
}

/** Length of one chain from a sample of about twenty, laid straight. */
export function chainLengthFromSample(chains: number, lengthMm: number): Estimate {
  requireInRange('chainSample.chains', chains, 2, 500, '');
  requireInRange('chainSample.lengthMm', lengthMm, 5, 5000, 'mm');
  const value = lengthMm / chains;
  return { value, sd: value * Math.hypot(STRAIGHTENING_RELATIVE_SD, 1 / lengthMm) };
}

/** A piece of cord: its length and stitches, and the length of one strand unravelled from it. */
export function cordFromSample(cordLengthMm: number, stitches: number, yarnLengthMm: number): Gauge['cordSample'] {
  requireInRange('cordSample.cordLengthMm', cordLengthMm, 20, 5000, 'mm');
  requireInRange('cordSample.stitches', stitches, 2, 2000, '');
  requireInRange('cordSample.yarnLengthMm', yarnLengthMm, cordLengthMm, 100_000, 'mm');
  const ratio = yarnLengthMm / cordLengthMm;
  const stitchMm = cordLengthMm / stitches;
  const lengthRelativeSd = 1 / cordLengthMm;
  return {
    yarnPerLength: { value: ratio, sd: ratio * Math.hypot(STRAIGHTENING_RELATIVE_SD, lengthRelativeSd) },
    stitchLengthMm: { value: stitchMm, sd: stitchMm * Math.hypot(STRAIGHTENING_RELATIVE_SD, lengthRelativeSd) },
  };
}
