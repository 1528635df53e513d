import type { Language } from '../app/settings.ts';
import { readersLocale } from '../text/readers-locale.ts';

/** What a kept thing goes by: its name, or the time it was begun until the maker names it. */
export function keptName(
  { label, createdAt }: { readonly label: string; readonly createdAt: number },
  language: Language,
): string {
  return (
    label || new Date(createdAt).toLocaleString(readersLocale(language), { dateStyle: 'medium', timeStyle: 'short' })
  );
}

/** How long what was never named stays before the page offers to clear it. */
const OFFER_AFTER_MS = 30 * 24 * 3600_000;

/** True for what nobody named or touched for thirty days. */
export function isLongUnnamed(
  { label, changedAt }: { readonly label: string; readonly changedAt: number },
  now = Date.now(),
): boolean {
  return label === '' && now - changedAt > OFFER_AFTER_MS;
}
