import { useMemo } from 'react';
import type { Note } from '../../sizing/notes.ts';
import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { noteText } from './words/note-words.ts';
import { type Voice, voiceOf } from './words/voice.ts';

/** How the maker who reads this page names stitches and reads numbers. */
export function useVoice(): Voice {
  const { language, terms, units, hand } = useSettings();
  return useMemo(() => voiceOf({ language, terms, units, hand }), [language, terms, units, hand]);
}

/** Says what the plan has to say, in that maker's words. */
export function useSay(): (note: Note) => string {
  const { planNotes } = useText();
  const voice = useVoice();
  return (note) => noteText(note, planNotes, voice);
}
