import type { Language, LengthUnit } from './settings.ts';

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
  const inch = wording.units === 'in';
  const factor = inch ? 1 / MM_PER_INCH : 1;
  const half = half95(length) * factor;
  const digits = inch ? (half >= 0.1 ? 1 : 2) : half >= 2 ? 0 : 1;
  return `${withSpread(length.value * factor, half, digits, wording)} ${inch ? 'in' : 'mm'}`;
}

/** A volume with its ±, "510 ± 12 ml" or "17.2 ± 0.4 fl oz" (US fluid ounce, 29.5735 ml). */
export function volumeText(volumeMl: Measured, wording: Wording): string {
  const ounces = wording.units === 'in';
  const factor = ounces ? 1 / 29.5735 : 1;
  return `${withSpread(volumeMl.value * factor, half95(volumeMl) * factor, ounces ? 1 : 0, wording)} ${ounces ? 'fl oz' : 'ml'}`;
}

/** Half the 95 % interval, the wider side where it is lopsided. */
export function half95({ value, sd, low95, high95 }: Measured): number {
  if (low95 === undefined || high95 === undefined) return 1.96 * sd;
  return Math.max(high95 - value, value - low95);
}

/** A plain number in the maker's language, "84,3" in German. */
export function numberText(value: number, digits: number, language: Language): string {
  return new Intl.NumberFormat(language, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(
    value,
  );
}

function withSpread(value: number, half: number, digits: number, { language }: Wording): string {
  const step = 10 ** -digits;
  const shown = Math.max(step, Math.ceil(half / step - 1e-9) * step);
  return `${numberText(value, digits, language)} ± ${numberText(shown, digits, language)}`;
}
