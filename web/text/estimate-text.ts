import type { Language, LengthUnit } from '../app/settings.ts';
import { numberToType } from '../ui/typed-number.ts';
import { readersLocale } from './readers-locale.ts';

/** Value with its 95 % interval, as both engines give it or close to it. */
export interface Measured {
  readonly value: number;
  readonly sd: number;
  readonly low95?: number;
  readonly high95?: number;
}

export interface Wording {
  readonly language: Language;
  readonly units: LengthUnit;
}

const MM_PER_INCH = 25.4;

/**
 * A length with its ±, "84.3 ± 0.6 mm" or "3.32 ± 0.02 in". The ± is half the 95 % interval (k ≈ 2), rounded up to the
 * digits shown, so that it is never printed smaller than it is. Digits: tenths of a mm, hundredths of an inch; whole mm
 * when the ± is 2 mm or more.
 */
export function lengthText(length: Measured, wording: Wording): string {
  const { factor, half, digits, unit } = lengthParts(length, wording);
  return `${withSpread(length.value * factor, half, digits, wording)} ${unit}`;
}

/** The parts of a length that are set apart: "84.3", "0.6 mm" for its ±, "mm". */
export function lengthWords(length: Measured, wording: Wording) {
  const { factor, digits, unit } = lengthParts(length, wording);
  return {
    value: numberText(length.value * factor, digits, wording.language),
    spread: spreadText(length, wording),
    unit,
  };
}

/** The same digits where the ± stands elsewhere: "84.3 mm". */
export function valueText(length: Measured, wording: Wording): string {
  const { factor, digits, unit } = lengthParts(length, wording);
  return `${numberText(length.value * factor, digits, wording.language)} ${unit}`;
}

/** The ± of a length alone: "0.6 mm". */
export function spreadText(length: Measured, wording: Wording): string {
  const { half, digits, unit } = lengthParts(length, wording);
  return `${numberText(roundedUp(half, digits), digits, wording.language)} ${unit}`;
}

function lengthParts(length: Measured, { units }: Wording) {
  const inch = units === 'in';
  const factor = inch ? 1 / MM_PER_INCH : 1;
  const half = half95(length) * factor;
  return { factor, half, digits: inch ? (half >= 0.1 ? 1 : 2) : half >= 2 ? 0 : 1, unit: inch ? 'in' : 'mm' };
}

/** A volume with its ±, "510 ± 12 ml" or "17.2 ± 0.4 fl oz" (US fluid ounce, 29.5735 ml). */
export function volumeText(volumeMl: Measured, wording: Wording): string {
  const ounces = wording.units === 'in';
  const factor = ounces ? 1 / 29.5735 : 1;
  return `${withSpread(volumeMl.value * factor, half95(volumeMl) * factor, ounces ? 1 : 0, wording)} ${ounces ? 'fl oz' : 'ml'}`;
}

/** A length read off a ruler: whole mm, or the nearest sixteenth of an inch, "2 7/8 in"; off a tape from half a metre on. */
export function rulerText(lengthMm: number, { units, language }: Wording): string {
  if (lengthMm >= 500) return longLengthText(lengthMm, { units, language });
  if (units === 'cm') return `${numberText(lengthMm, 0, language)} mm`;
  return `${sixteenths(lengthMm / MM_PER_INCH)} in`;
}

/** "53–61 mm". */
export function rulerRangeText([fromMm, toMm]: readonly [number, number], wording: Wording): string {
  const [from, to] = [rulerText(fromMm, wording), rulerText(toMm, wording)];
  const unit = to.slice(to.lastIndexOf(' '));
  return `${from.endsWith(unit) ? from.slice(0, -unit.length) : from}–${to}`;
}

/** A long length: "120 cm", "15 cm", "47 in"; tenths below half a metre, where there are any. */
export function longLengthText(lengthMm: number, { units, language }: Wording): string {
  const [perMm, unit] = units === 'in' ? [1 / MM_PER_INCH, 'in'] : [0.1, 'cm'];
  return `${numberToType(lengthMm * perMm, lengthMm < 500 ? 1 : 0, language)} ${unit}`;
}

/** As a tape is read: to half a centimetre or a quarter of an inch. */
export function tapeText(mm: number, { units, language }: Wording, round = Math.round): string {
  const [stepMm, perMm, unit] = units === 'in' ? [MM_PER_INCH / 4, 1 / MM_PER_INCH, 'in'] : [5, 0.1, 'cm'];
  return `${numberToType(round(mm / stepMm) * stepMm * perMm, 2, language)} ${unit}`;
}

const METRES_PER_YARD = 0.9144;

/** Yarn by length, whole metres or yards, the ± to two figures: "84 ± 13 m". */
export function yarnLengthText(metres: Measured, wording: Wording): string {
  const yards = wording.units === 'in';
  const factor = yards ? 1 / METRES_PER_YARD : 1;
  return `${withSpread(metres.value * factor, half95(metres) * factor, 0, wording)} ${yards ? 'yd' : 'm'}`;
}

const GRAMS_PER_OUNCE = 28.3495;

/** "44 ± 7 g" or "1.6 ± 0.3 oz". */
export function massText(grams: Measured, wording: Wording): string {
  const ounces = wording.units === 'in';
  const factor = ounces ? 1 / GRAMS_PER_OUNCE : 1;
  return `${withSpread(grams.value * factor, half95(grams) * factor, ounces ? 1 : 0, wording)} ${ounces ? 'oz' : 'g'}`;
}

/** Working time to five minutes: "55 min", "1 h 10 min". */
export function timeText(minutes: number): string {
  const rounded = Math.max(5, Math.round(minutes / 5) * 5);
  const hours = Math.floor(rounded / 60);
  const rest = rounded % 60;
  return [hours > 0 ? `${hours} h` : '', rest > 0 ? `${rest} min` : ''].filter(Boolean).join(' ');
}

/** A probability as a maker says it: whole per cent, never 0 or 100. */
export function chanceText(probability: number, language: Language): string {
  const percent = Math.round(probability * 100);
  if (percent <= 0) return language === 'de' ? 'unter 1 %' : 'under 1%';
  if (percent >= 100) return language === 'de' ? 'über 99 %' : 'over 99%';
  return language === 'de' ? `${percent} %` : `${percent}%`;
}

/** Half the 95 % interval, the wider side where it is lopsided. */
export function half95({ value, sd, low95, high95 }: Measured): number {
  if (low95 === undefined || high95 === undefined) return 1.96 * sd;
  return Math.max(high95 - value, value - low95);
}

/** A plain number in the maker's language, "84,3" in German. */
export function numberText(value: number, digits: number, language: Language): string {
  const locale = readersLocale(language);
  const key = `${locale} ${digits}`;
  const format =
    FORMATS.get(key) ??
    new Intl.NumberFormat(locale, {
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
      useGrouping: false,
    });
  FORMATS.set(key, format);
  return format.format(value);
}

/** Making one takes longer than a hundred numbers. */
const FORMATS = new Map<string, Intl.NumberFormat>();

function withSpread(value: number, half: number, digits: number, { language }: Wording): string {
  return `${numberText(value, digits, language)} ± ${numberText(roundedUp(half, digits), digits, language)}`;
}

/** Rounded up to the digits shown, and never to nothing. */
function roundedUp(half: number, digits: number): number {
  const step = 10 ** -digits;
  return Math.max(step, Math.ceil(half / step - 1e-9) * step);
}

/** "2 5/16": to the nearest sixteenth, the finest mark on a tape, reduced. */
function sixteenths(inches: number): string {
  const total = Math.round(inches * 16);
  const whole = Math.floor(total / 16);
  let [over, under] = [total % 16, 16];
  while (over > 0 && over % 2 === 0) [over, under] = [over / 2, under / 2];
  return [whole > 0 || over === 0 ? String(whole) : '', over > 0 ? `${over}/${under}` : ''].filter(Boolean).join(' ');
}
