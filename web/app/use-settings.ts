import { createContext, useContext } from 'react';
import { defaultSettings, type Settings } from './settings.ts';

const SettingsContext = createContext<Settings>(defaultSettings('en'));

export const SettingsProvider = SettingsContext.Provider;

/** Words, units and habits the maker chose. */
export function useSettings(): Settings {
  return useContext(SettingsContext);
}
