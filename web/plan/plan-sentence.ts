import type { Stitch } from '../../sizing/stitches.ts';
import type { Settings } from '../app/settings.ts';
import { numberText, rulerText } from '../text/estimate-text.ts';
import { shortStitch } from './stitch-words.ts';

type Reader = Pick<Settings, 'language' | 'terms' | 'units'>;

/** What varies in a sentence: `{66.2 mm}`, `{sc}` or a number. */
const VARIABLE = /\{[^}]*\}|\d+(?:\.\d+)?/g;
const SENTENCE_END = /(?<=[.!?]) (?=[A-Z{\d])/;

/** The sizing engine's English sentences in the reader's language, stitch names and units. */
export function planSentence(text: string, reader: Reader, catalogue: Readonly<Record<string, string>>): string {
  return text
    .split(SENTENCE_END)
    .map((sentence) => oneSentence(sentence, reader, catalogue))
    .join(' ');
}

/** A sentence as the catalogue's key: `#` for everything that varies. */
export function sentenceKey(sentence: string): string {
  return sentence.replace(VARIABLE, '#');
}

/** The sentences of a text, one by one. */
export function sentencesOf(text: string): string[] {
  return text.split(SENTENCE_END);
}

function oneSentence(sentence: string, reader: Reader, catalogue: Readonly<Record<string, string>>): string {
  const said = (sentence.match(VARIABLE) ?? []).map((each) => variableText(each, reader));
  const translated = catalogue[sentenceKey(sentence)];
  if (translated !== undefined)
    return translated.replace(/#(\d)/g, (_, index: string) => said[Number(index) - 1] ?? '');
  let next = 0;
  return sentence.replace(VARIABLE, () => said[next++]);
}

function variableText(variable: string, reader: Reader): string {
  const length = /^\{(-?[\d.]+) mm\}$/.exec(variable);
  if (length) return rulerText(Number(length[1]), reader);
  if (variable.startsWith('{')) return shortStitch(variable.slice(1, -1) as Stitch, reader.terms);
  return numberText(Number(variable), variable.split('.')[1]?.length ?? 0, reader.language);
}
