import { type Disc, gaugeFromDisc, type Progress } from '../../sizing/follow/replan.ts';
import { type Gauge, gaugeFromSwatch, type Swatch } from '../../sizing/gauge.ts';
import type { MeasuredDisc } from '../../vision/flat-piece/measure-disc.ts';
import type { MeasuredSwatch } from '../../vision/flat-piece/measure-swatch.ts';
import type { MeasuredTube } from '../../vision/flat-piece/measure-tube.ts';

/**
 * Photos of work, as the sizing engine takes them. What the maker typed (rounds, stitches) joins what the photo gave.
 */

/** A photographed disc with its counts, for `replanFromDisc` and `gaugeFromDisc`. */
export function discFromPhoto(disc: MeasuredDisc, roundsWorked: number, stitchCount: number): Disc {
  const { value, sd } = disc.meanDiameterMm;
  return { roundsWorked, stitchCount, measuredWidthMm: value, sdMm: sd };
}

/** Her gauge after a photo of the disc: what was believed before, weighted with what the disc says. */
export function gaugeAfterDiscPhoto(before: Gauge, disc: MeasuredDisc, rounds: number, stitches: number): Gauge {
  return gaugeFromDisc(before, discFromPhoto(disc, rounds, stitches));
}

/** What is counted on the swatch and known about the yarn. */
export type CountedSwatch = Omit<Swatch, 'widthMm' | 'heightMm' | 'sdMm'>;

/** A photographed swatch as sizing takes it. The less certain of its two sides speaks for both. */
export function swatchFromPhoto({
  widthMm,
  heightMm,
}: MeasuredSwatch): Pick<Swatch, 'widthMm' | 'heightMm'> & { sdMm: number } {
  return { widthMm: widthMm.value, heightMm: heightMm.value, sdMm: Math.max(widthMm.sd, heightMm.sd) };
}

/** Gauge from a photographed swatch. */
export function gaugeFromSwatchPhoto(swatch: MeasuredSwatch, counted: CountedSwatch): Gauge {
  return gaugeFromSwatch({ ...counted, ...swatchFromPhoto(swatch) });
}

/** A photographed tube as progress for `replan`: half of what runs round the middle of its fabric. */
export function progressFromTubePhoto(tube: MeasuredTube, afterRound: number): Progress {
  return { afterRound, measuredWidthMm: tube.aroundMm.value / 2, sdMm: tube.aroundMm.sd / 2 };
}
