import { createContext, useContext } from 'react';
import type { Language } from '../app/settings.ts';
import { en } from './en/text.ts';

/** Every word the page shows, by section. English is the model: another language has exactly its keys. */
export type Text = typeof en;

const TextContext = createContext<Text>(en);

export const TextProvider = TextContext.Provider;

/** The words of the language the maker chose. */
export function useText(): Text {
  return useContext(TextContext);
}

/** English is part of the page; other languages are fetched when chosen. */
export async function loadText(language: Language): Promise<Text> {
  return language === 'de' ? (await import('./de/text.ts')).de : en;
}
