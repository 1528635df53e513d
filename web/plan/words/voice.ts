import type { Stitch } from '../../../sizing/stitches.ts';
import type { Settings } from '../../app/settings.ts';
import { longLengthText, numberText, rulerRangeText, rulerText } from '../../text/estimate-text.ts';
import { longStitch, shortStitch } from '../stitch-words.ts';

/** Whom a plan is worded for. */
export type Reader = Pick<Settings, 'language' | 'terms' | 'units' | 'hand'>;

/** How that reader names stitches and reads numbers; every sentence of a plan is put together with it. */
export interface Voice {
  readonly reader: Reader;
  readonly stitch: (stitch: Stitch) => string;
  readonly longStitch: (stitch: Stitch) => string;
  /** Read off a ruler: whole mm or sixteenths of an inch. */
  readonly length: (mm: number) => string;
  readonly range: (mm: readonly [number, number]) => string;
  /** Read off a tape: "15 cm", "119 cm", "47 in". */
  readonly tape: (mm: number) => string;
  readonly number: (value: number, digits?: number) => string;
  readonly percent: (share: number) => string;
  /** A mass without its ±. */
  readonly mass: (grams: number) => string;
}

/** A tape is read to half an inch. */
function halves(inches: number): number {
  return Math.max(0.5, Math.round(inches * 2) / 2);
}

/** For a terminal that was not told otherwise. */
export const IN_ENGLISH: Reader = { language: 'en', terms: 'us', units: 'cm', hand: 'right' };

export function voiceOf(reader: Reader): Voice {
  const { language, terms, units } = reader;
  const number = (value: number, digits = 0) => numberText(value, digits, language);
  return {
    reader,
    stitch: (stitch) => shortStitch(stitch, terms),
    longStitch: (stitch) => longStitch(stitch, terms),
    length: (mm) => rulerText(mm, reader),
    range: (mm) => rulerRangeText(mm, reader),
    tape: (mm) =>
      units === 'in'
        ? `${number(halves(mm / 25.4), halves(mm / 25.4) % 1 === 0 ? 0 : 1)} in`
        : longLengthText(mm, reader),
    number,
    percent: (share) => `${number(Math.round(share * 100))}${language === 'de' ? ' ' : ''}%`,
    mass: (grams) =>
      units === 'in'
        ? grams >= 454
          ? `${number(grams / 453.592, 1)} lb`
          : `${number(grams / 28.3495, 1)} oz`
        : grams >= 1000
          ? `${number(grams / 1000, 1)} kg`
          : `${number(grams)} g`,
  };
}
