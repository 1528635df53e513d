import { afterEach, expect, test, vi } from 'vitest';
import { numberText } from '../../../web/text/estimate-text.ts';
import { dateText, readersLocale } from '../../../web/text/readers-locale.ts';

afterEach(() => vi.unstubAllGlobals());
const browserAsks = (...languages: string[]) => vi.stubGlobal('navigator', { languages });
// Forms from the Unicode Common Locale Data Repository, as Intl carries it.
const LAST_OF_NOVEMBER = new Date(2026, 10, 30).getTime();

test('a British reader sees the day first, an American the month', () => {
  browserAsks('en-GB', 'en');
  expect(dateText(LAST_OF_NOVEMBER, 'en')).toBe('30 Nov 2026');
  browserAsks('en-US');
  expect(dateText(LAST_OF_NOVEMBER, 'en')).toBe('Nov 30, 2026');
});

test('a Swiss reader of German sees a decimal point, a German one a comma', () => {
  browserAsks('de-CH');
  expect(numberText(73.4, 1, 'de')).toBe('73.4');
  browserAsks('de-DE');
  expect(numberText(73.4, 1, 'de')).toBe('73,4');
});

test('a language that the browser does not ask for is taken as it is', () => {
  browserAsks('fr-FR');
  expect(readersLocale('de')).toBe('de');
});
