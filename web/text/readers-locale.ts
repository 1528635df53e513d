import type { Language } from '../app/settings.ts';

/**
 * The regional form of a language that the reader's browser asks for, "en-GB" or "de-CH"; the bare language when it asks
 * for another one. Dates and numbers follow it.
 */
export function readersLocale(language: Language): string {
  const asked = typeof navigator === 'undefined' ? [] : (navigator.languages ?? []);
  return asked.find((each) => each.split('-')[0] === language) ?? language;
}

/** A day as the reader writes it. */
export function dateText(ms: number, language: Language): string {
  return new Intl.DateTimeFormat(readersLocale(language), { dateStyle: 'medium' }).format(ms);
}
