import type { Note, NoteCode, NoteOf } from '../../../sizing/notes.ts';
import type { Voice } from './voice.ts';

/** A sentence for everything a plan can say; a code without one does not compile. */
export type NoteWords = { readonly [C in NoteCode]: (note: NoteOf<C>, voice: Voice) => string };

export function noteText(note: Note, words: NoteWords, voice: Voice): string {
  const say = words[note.code] as (note: Note, voice: Voice) => string;
  return say(note, voice);
}
