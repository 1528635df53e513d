import type { Language } from '../app/settings.ts';
import { readersLocale } from '../text/readers-locale.ts';

/**
 * A number as a maker types it: "84,3", "84.3", "3 1/4" or "3/8". Null when it is empty, NaN when it is no number.
 */
export function typedNumber(text: string): number | null {
  const cleaned = text.trim().replace(',', '.').replace(/\s+/g, ' ');
  if (cleaned === '') return null;
  if (/^\d*\.?\d+$|^\d+\.$/.test(cleaned)) return Number(cleaned);
  const fraction = /^(?:(\d+) )?(\d+) ?\/ ?(\d+)$/.exec(cleaned);
  if (!fraction || Number(fraction[3]) === 0) return Number.NaN;
  return Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]);
}

const MM_PER_UNIT = { mm: 1, cm: 10, in: 25.4 } as const;
export type TypedUnit = keyof typeof MM_PER_UNIT;

/** A length in mm, typed in `unit` unless its own unit follows it: "26,4 cm", "10 1/4 in", `3"`. */
export function typedLengthMm(text: string, unit: TypedUnit): number | null {
  const [, number, own] = /^(.*?)\s*(mm|cm|in|inch|inches|"|″)?$/i.exec(text.trim()) ?? [];
  const typed = typedNumber(number ?? '');
  if (typed === null) return own ? Number.NaN : null;
  const ownUnit = own?.toLowerCase();
  return typed * MM_PER_UNIT[ownUnit === 'mm' || ownUnit === 'cm' ? ownUnit : ownUnit ? 'in' : unit];
}

/** Which unit a number typed without one is in, when it lies outside the limits in the field's own. */
const OTHER_UNITS: Readonly<Record<TypedUnit, readonly TypedUnit[]>> = {
  mm: ['cm', 'in'],
  cm: ['mm', 'in'],
  in: ['cm', 'mm'],
};

/**
 * A length in mm within the limits: as typed; else, for a number that stands alone, in the first other unit in which it
 * lies within them ("22.9" in a field for mm is 22.9 cm). `guessed` is that unit, null where nothing was guessed.
 */
export function lengthWithin(
  text: string,
  unit: TypedUnit,
  limits: { readonly min: number; readonly max: number },
): { readonly mm: number | null; readonly guessed: TypedUnit | null } {
  const within = (mm: number | null) => mm !== null && mm >= limits.min && mm <= limits.max;
  const mm = typedLengthMm(text, unit);
  if (mm === null || within(mm) || Number.isNaN(typedNumber(text))) return { mm, guessed: null };
  const guessed = OTHER_UNITS[unit].find((other) => within(typedLengthMm(text, other))) ?? null;
  return { mm: guessed ? typedLengthMm(text, guessed) : mm, guessed };
}

/** Factor from mm to the unit typed. */
export function unitsPerMm(unit: TypedUnit): number {
  return 1 / MM_PER_UNIT[unit];
}

/** A number ready to be typed over: no grouping, no trailing zeros, decimal mark of the reader. */
export function numberToType(value: number | null, digits: number, language: Language): string {
  if (value === null) return '';
  return new Intl.NumberFormat(readersLocale(language), { maximumFractionDigits: digits, useGrouping: false }).format(
    value,
  );
}
