import type { Plan, Step } from '../../sizing/plan.ts';
import type { Stitch } from '../../sizing/stitches.ts';
import type { TermSet } from '../app/settings.ts';
import { longStitch, shortStitch } from './stitch-words.ts';

const ORDER: readonly Stitch[] = ['ch', 'sl st', 'sc', 'hdc', 'dc', 'tr'];

interface ShortWords {
  readonly round: string;
  readonly stitch: string;
  readonly space: string;
}

/** The abbreviations a plan needs, spelled out: "ch chain, dc double crochet, …". */
export function wordsUsed(plan: Plan, terms: TermSet, others: ShortWords): string {
  const used = new Set<Stitch>(plan.parts.flatMap(({ rounds }) => rounds.flatMap(({ steps }) => stitchesIn(steps))));
  const stitches = ORDER.filter((stitch) => used.has(stitch)).map(
    (stitch) => `${shortStitch(stitch, terms)} ${longStitch(stitch, terms)}`,
  );
  return [...stitches, others.stitch, ...(plan.zones.length > 0 ? [others.space] : [])].join(', ');
}

function stitchesIn(steps: readonly Step[]): Stitch[] {
  return steps.flatMap((step) => (step.do === 'repeat' ? stitchesIn(step.steps) : stitchesOf(step)));
}

function stitchesOf(step: Exclude<Step, { do: 'repeat' }>): Stitch[] {
  switch (step.do) {
    case 'stitch':
    case 'increase':
    case 'together':
      return [step.stitch];
    case 'turning-chain':
    case 'chain':
      return ['ch'];
    case 'join':
    case 'level':
      return ['sl st'];
    case 'cord':
      return ['ch', 'sc'];
    case 'ring':
    case 'skip':
      return [];
  }
}
