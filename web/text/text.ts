import { createContext, useContext } from 'react';
import type { Language } from '../app/settings.ts';
import type { en } from './en/text.ts';

/** Every word the page shows, by section. English is the model: another language has exactly its keys. */
export type Text = typeof en;

const TextContext = createContext<Text | null>(null);

export const TextProvider = TextContext.Provider;

/** The words of the language the maker chose. */
export function useText(): Text {
  const text = useContext(TextContext);
  if (!text) throw new Error('No words were given for this part of the page.');
  return text;
}

/** Each language is fetched when it is wanted: nobody waits for the words of another. */
export async function loadText(language: Language): Promise<Text> {
  return language === 'de' ? (await import('./de/text.ts')).de : (await import('./en/text.ts')).en;
}
