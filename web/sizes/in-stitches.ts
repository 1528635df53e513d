import type { Gauge } from '../../sizing/gauge.ts';
import { half95, type Measured } from '../text/estimate-text.ts';

/** What the ± of a container comes to in the maker's own stitches, all of them half 95 % intervals. */
export interface SpreadInStitches {
  /** Stitches of a round around the widest place. */
  readonly around: number;
  /** Rounds in height. */
  readonly rounds: number;
  /** Stitches by which gauge alone moves the same round. */
  readonly hand: number;
}

export function spreadInStitches(widestMm: Measured, heightMm: Measured, gauge: Gauge): SpreadInStitches {
  const { value: widthMm, sd: widthSdMm } = gauge.stitchWidthMm;
  return {
    around: (Math.PI * half95(widestMm)) / widthMm,
    rounds: half95(heightMm) / gauge.roundHeightMm.value,
    hand: ((Math.PI * widestMm.value) / widthMm) * ((1.96 * widthSdMm) / widthMm),
  };
}

interface CountWords {
  readonly none: string;
  readonly half: string;
  readonly some: (count: string) => string;
}

/** "about half a stitch": as exact as a maker can count. */
export function countInWords(count: number, words: CountWords): string {
  if (count < 0.25) return words.none;
  if (count < 0.75) return words.half;
  return words.some(String(Math.round(count)));
}
