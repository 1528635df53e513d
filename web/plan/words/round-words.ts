import type { Round, Step } from '../../../sizing/plan.ts';
import type { FabricStitch } from '../../../sizing/stitches.ts';
import type { TermSet } from '../../app/settings.ts';
import { germanRounds } from '../../text/de/plan-rounds.ts';
import { englishRounds } from '../../text/en/plan-rounds.ts';
import type { Voice } from './voice.ts';

export type StepOf<D extends Step['do']> = Extract<Step, { readonly do: D }>;

/** How crochet is written in a language: a phrase for every step, and what stands around them. */
export interface RoundGrammar {
  /** The phrases of a round's steps, in order. */
  readonly phrases: (round: Round, voice: Voice) => string[];
  /** "36 dc", "12 dc, 12 ch-2 sps". */
  readonly count: (round: Round, voice: Voice) => string;
  /** "Rnd 3", "Rnds 7–17". */
  readonly label: (from: number, to: number) => string;
}

/** The language of a round goes by its terms: German stitch names read German, whatever language the page is in. */
export function grammarOf(terms: TermSet): RoundGrammar {
  return terms === 'de' ? germanRounds : englishRounds;
}

/** One round as a maker writes it, without its number and count. */
export function roundText(round: Round, voice: Voice): string {
  const text = grammarOf(voice.reader.terms).phrases(round, voice).join(', ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** What the round leaves, as it stands in brackets at the end of the line. */
export function countText(round: Round, voice: Voice): string {
  return grammarOf(voice.reader.terms).count(round, voice);
}

export function roundLabel(from: number, to: number, voice: Voice): string {
  return grammarOf(voice.reader.terms).label(from, to);
}

/** Whether a run of plain stitches is all there is to the round, but for its turning chain. */
export function isWholeRound(step: StepOf<'stitch'>, round: Round): boolean {
  const chain = round.steps.some((each) => each.do === 'turning-chain' && each.countsAs !== null) ? 1 : 0;
  return step.into === 'stitch' && step.times > 1 && step.times === round.stitches - chain && round.spaces === 0;
}

/** Whether a repeat of increases takes all there is to the round. */
export function isEveryStitch(step: StepOf<'repeat'>, round: Round): boolean {
  const [only] = step.steps;
  return step.steps.length === 1 && only.do === 'increase' && step.times * only.made === round.stitches;
}

/** A stitch in the next chain space and more of it in the same: one phrase. */
export function intoOneSpace(step: Step, next: Step | undefined): number {
  if (step.do !== 'stitch' || step.into !== 'space' || step.times !== 1) return 0;
  return next?.do === 'stitch' && next.into === 'same' && next.stitch === step.stitch ? next.times + 1 : 0;
}

/** A V-stitch begins here: two stitches in one place with chains between; null where none does. */
export function vStitchAt(
  steps: readonly Step[],
  index: number,
): { readonly stitch: FabricStitch; readonly chains: number; readonly into: 'stitch' | 'space' | 'same' } | null {
  const [first, chain, second] = steps.slice(index, index + 3);
  if (first?.do !== 'stitch' || chain?.do !== 'chain' || second?.do !== 'stitch') return null;
  if (first.into === 'ring' || second.into !== 'same' || second.stitch !== first.stitch) return null;
  if (first.times !== 1 || second.times !== 1) return null;
  return { stitch: first.stitch, chains: chain.chains, into: first.into };
}

/** What stands in all stitches, and the chains in all spaces; null where they differ. */
export function madeOf(steps: readonly Step[]): { stitch: string | null; chains: number | null } {
  const stitches = new Set<string>();
  const chains = new Set<number>();
  const look = (step: Step): void => {
    if (step.do === 'repeat') step.steps.forEach(look);
    if (step.do === 'stitch' || step.do === 'increase' || step.do === 'together') stitches.add(step.stitch);
    if (step.do === 'turning-chain' && step.countsAs) stitches.add(step.countsAs);
    if (step.do === 'chain') chains.add(step.chains);
  };
  steps.forEach(look);
  return {
    stitch: stitches.size === 1 ? [...stitches][0] : null,
    chains: chains.size === 1 ? [...chains][0] : null,
  };
}
