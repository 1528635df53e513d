import type { NotationError, NotationTrouble } from '../../../sizing/regrade/own-pattern.ts';
import type { Disagreement, RegradeNote } from '../../../sizing/regrade/regrade.ts';
import type { SizeSet, SizeValues } from '../../../sizing/regrade/size-set.ts';
import type { Voice } from './voice.ts';

type Code = RegradeNote['code'];
type NoteOf<C extends Code> = Extract<RegradeNote, { code: C }>;
type DisagreementCode = Disagreement['code'];

/** A sentence for everything regrading can say; a code without one does not compile. */
export interface RegradeWords {
  readonly title: string;
  readonly notes: { readonly [C in Code]: (note: NoteOf<C>, voice: Voice) => string };
  readonly disagrees: {
    readonly [C in DisagreementCode]: (what: Extract<Disagreement, { code: C }>, voice: Voice) => string;
  };
  readonly notation: { readonly [C in NotationTrouble]: (found: string) => string };
  readonly place: (sentence: string, place: number) => string;
  readonly sizes: SizeSetWords;
  readonly screen: RegradeScreenWords;
}

/** What the screen says on which she gives her rounds. */
export interface RegradeScreenWords {
  readonly title: string;
  readonly lead: string;
  readonly takeKept: string;
  readonly choose: string;
  readonly rounds: string;
  readonly example: string;
  readonly parts: string;
  readonly madeFor: string;
  readonly across: string;
  readonly high: string;
  readonly ownGauge: string;
  readonly forTitle: string;
  readonly inHand: string;
  readonly addSize: string;
  readonly removeSize: string;
  readonly which: string;
  readonly typed: string;
  readonly result: string;
  readonly missing: string;
  readonly open: string;
  readonly copy: string;
  readonly from: string;
  readonly change: string;
  readonly without: string;
}

export interface SizeSetWords {
  readonly title: string;
  readonly sizes: (name: string, across: string, high: string) => string;
  readonly order: (names: string) => string;
  readonly start: (stitches: string) => string;
  readonly adds: (round: number, adds: string, stitches: string) => string;
  readonly plain: (round: number, stitches: string) => string;
  readonly wall: (rounds: string) => string;
  readonly mesh: (cells: string, chains: string, rounds: string) => string;
  readonly changes: string;
  readonly band: (stitches: string, rounds: string) => string;
  readonly strap: (length: string) => string;
  readonly yarn: (metres: string) => string;
}

export function regradeNoteText(note: RegradeNote, words: RegradeWords, voice: Voice): string {
  const say = words.notes[note.code] as (note: RegradeNote, voice: Voice) => string;
  return say(note, voice);
}

export function disagreementText(what: Disagreement, words: RegradeWords, voice: Voice): string {
  const say = words.disagrees[what.code] as (what: Disagreement, voice: Voice) => string;
  return say(what, voice);
}

/** What cannot be read, with its place counted from 1 as a reader counts. */
export function notationText({ code, at, found }: NotationError, words: RegradeWords): string {
  return words.place(words.notation[code](found), at + 1);
}

/** A graded pattern, line by line. */
export function sizeSetLines(set: SizeSet, { sizes: words }: RegradeWords, voice: Voice): string[] {
  const number = (value: number) => voice.number(value);
  const graded = (values: SizeValues) => gradedText(values, number);
  const lines = [
    words.order(gradedNames(set.names)),
    ...set.plans.map(({ container }, index) =>
      words.sizes(
        set.names[index],
        voice.length(container.maxDiameterMm.value),
        voice.length(container.heightMm.value),
      ),
    ),
    ...set.base.map(({ round, adds, stitches }) => {
      if (round === 1) return words.start(graded(stitches));
      return adds.every((each) => each === 0 || each === null)
        ? words.plain(round, graded(stitches))
        : words.adds(round, graded(adds), graded(stitches));
    }),
  ];
  if (set.wallRounds.some((rounds) => rounds !== 0)) lines.push(words.wall(graded(set.wallRounds)));
  if (set.mesh) lines.push(words.mesh(graded(set.mesh.cells), graded(set.mesh.chains), graded(set.mesh.rounds)));
  if (set.mesh?.changes) lines.push(words.changes);
  if (set.band) lines.push(words.band(graded(set.band.stitches), graded(set.band.rounds)));
  if (set.strapMm.some((mm) => mm !== null)) lines.push(words.strap(gradedText(set.strapMm, voice.tape)));
  lines.push(words.yarn(graded(set.yarnMetres.map((metres) => metres && Math.round(metres)))));
  return lines;
}

/** "36 (42, 48)", or one number where all sizes share it; a dash where a size has none. */
export function gradedText(values: SizeValues, say: (value: number) => string): string {
  const texts = values.map((value) => (value === null ? '–' : say(value)));
  if (new Set(texts).size === 1) return texts[0];
  return gradedNames(texts);
}

function gradedNames([first, ...others]: readonly string[]): string {
  return others.length === 0 ? first : `${first} (${others.join(', ')})`;
}
