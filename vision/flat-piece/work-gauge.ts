import type { MeasuredDisc } from './measure-disc.ts';
import type { MeasuredSwatch } from './measure-swatch.ts';

/** A number with its standard uncertainty. */
export interface ValueSd {
  readonly value: number;
  readonly sd: number;
}

/** Stitch width and round height read from a piece of work. */
export interface WorkGauge {
  readonly stitchWidthMm: ValueSd;
  readonly roundHeightMm: ValueSd;
  readonly correlation: number;
}

/**
 * A disc that lies flat may still have up to 7 % more or fewer stitches than flat fabric takes (one maker's published
 * series of 1–10 increases: 7 and 8 of 7.5 lie flat); patted flat, rim and reach give in equally, so width and height
 * each carry half of it, in opposite directions. A rectangular distribution of ±7 %: sd 4 %.
 */
const FLATNESS_SD = 0.07 / Math.sqrt(3);

/**
 * Gauge of the hand that made a disc: stitch width = circumference / stitches of the last round, round height = radius
 * / rounds. The mean diameter's error moves both alike, hidden cupping moves them against each other.
 * @param rounds    rounds worked, the ring counts as none
 * @param stitches  stitches in the last round
 */
export function gaugeFromDisc({ meanDiameterMm }: MeasuredDisc, rounds: number, stitches: number): WorkGauge {
  const sizeSd = meanDiameterMm.sd / meanDiameterMm.value;
  const each = Math.hypot(sizeSd, FLATNESS_SD / 2);
  const stitchWidth = (Math.PI * meanDiameterMm.value) / stitches;
  const roundHeight = meanDiameterMm.value / (2 * rounds);
  return {
    stitchWidthMm: { value: stitchWidth, sd: stitchWidth * each },
    roundHeightMm: { value: roundHeight, sd: roundHeight * each },
    correlation: (sizeSd ** 2 - (FLATNESS_SD / 2) ** 2) / each ** 2,
  };
}

/** Gauge of a swatch whose stitches and rows were counted from edge to edge. */
export function gaugeFromSwatch(swatch: MeasuredSwatch, rows: number, stitches: number): WorkGauge {
  return {
    stitchWidthMm: { value: swatch.widthMm.value / stitches, sd: swatch.widthMm.sd / stitches },
    roundHeightMm: { value: swatch.heightMm.value / rows, sd: swatch.heightMm.sd / rows },
    correlation: swatch.correlation,
  };
}
