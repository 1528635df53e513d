import * as v from 'valibot';

/** US and UK words for stitches; German has a vocabulary of its own. */
export const TERM_SETS = ['us', 'uk', 'de'] as const;
export type TermSet = (typeof TERM_SETS)[number];

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];

export const LENGTH_UNITS = ['cm', 'in'] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

export const HANDS = ['right', 'left'] as const;
export type Hand = (typeof HANDS)[number];

/** What the maker chose once for every screen. */
export const SettingsSchema = v.object({
  language: v.picklist(LANGUAGES),
  terms: v.picklist(TERM_SETS),
  units: v.picklist(LENGTH_UNITS),
  /** The hook's hand: left-handed work turns the other way. */
  hand: v.picklist(HANDS),
  theme: v.picklist(['auto', 'light', 'dark']),
  /** Keep the original photo, card and all, with the container. Off unless the maker asks. */
  keepOriginalPhoto: v.boolean(),
  /** What usually lies beside the container, by name or size; null for a bank card. */
  reference: v.nullable(v.string()),
  /** Stand in the guide that customers get; may be empty. */
  makerName: v.pipe(v.string(), v.maxLength(60)),
  answerTo: v.pipe(v.string(), v.maxLength(100)),
});
export type Settings = v.InferOutput<typeof SettingsSchema>;

/**
 * First settings from the browser's language: German for German, inches for the United States, UK words for British,
 * Irish, Australian and New Zealand English.
 */
export function defaultSettings(browserLanguage: string): Settings {
  const [language, ...rest] = browserLanguage.toLowerCase().split('-');
  const region = rest.at(-1) ?? '';
  const german = language === 'de';
  return {
    language: german ? 'de' : 'en',
    terms: german ? 'de' : ['gb', 'ie', 'au', 'nz'].includes(region) ? 'uk' : 'us',
    units: region === 'us' ? 'in' : 'cm',
    hand: 'right',
    theme: 'auto',
    keepOriginalPhoto: false,
    reference: null,
    makerName: '',
    answerTo: '',
  };
}

/** Settings read from storage; what is missing or broken falls back to the default. */
export function settingsFrom(stored: unknown, browserLanguage: string): Settings {
  const fallback = defaultSettings(browserLanguage);
  const candidate = typeof stored === 'object' && stored !== null ? { ...fallback, ...stored } : fallback;
  return v.is(SettingsSchema, candidate) ? candidate : fallback;
}
