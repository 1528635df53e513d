import type { Round, Step } from '../../../sizing/plan.ts';
import type { FabricStitch } from '../../../sizing/stitches.ts';
import {
  intoOneSpace,
  isEveryStitch,
  isWholeRound,
  madeOf,
  type RoundGrammar,
  type StepOf,
  vStitchAt,
} from '../../plan/words/round-words.ts';
import type { Voice } from '../../plan/words/voice.ts';

/** Rounds in US or UK crochet English, as leaflets of both sides write them. */
export const englishRounds: RoundGrammar = {
  phrases: (round, voice) => {
    const phrases = phrasesOf(round.steps, round, voice, firstAfterJoin(round));
    const start = startPhrase(round, voice);
    if (start === null) return phrases;
    const chain = round.steps[0].do === 'turning-chain' ? 1 : 0;
    return [...phrases.slice(0, chain), start, ...phrases.slice(chain)];
  },
  count: ({ steps, stitches, spaces }, voice) => {
    const { stitch, chains } = madeOf(steps);
    const tops = `${stitches} ${stitch ? voice.stitch(stitch as FabricStitch) : stitches === 1 ? 'st' : 'sts'}`;
    if (spaces === 0) return tops;
    return `${tops}, ${spaces} ch-${chains === null ? 'sps' : `${chains} sps`}`;
  },
  label: (from, to) => (from === to ? `Rnd ${from}` : `Rnds ${from}–${to}`),
};

/** `first` is the index of the step that takes the stitch of the join, if one does. */
function phrasesOf(steps: readonly Step[], round: Round, voice: Voice, first = -1): string[] {
  const phrases: string[] = [];
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index];
    const pair = vStitchAt(steps, index);
    if (pair && round.part === 'mesh' && round.stitches === 2 * round.spaces) {
      phrases.push(vStitchPhrase(pair, voice, index === first));
      index += 2;
      continue;
    }
    const together = intoOneSpace(step, steps[index + 1]);
    if (together > 0 && step.do === 'stitch') {
      phrases.push(`${together} ${voice.stitch(step.stitch)} in next ch-sp`);
      index++;
    } else {
      phrases.push(...stepPhrases(step, round, voice, index === first));
    }
  }
  return phrases;
}

/** Where the first stitch after a join goes is the first thing a tester asks. */
function startPhrase({ starts, steps }: Round, voice: Voice): string | null {
  const [first, second] = steps;
  if (starts === 'closing space') return `starting in same ch-sp as ${voice.stitch('sl st')}`;
  if (starts !== 'joining stitch') return null;
  if (first.do === 'turning-chain') return first.countsAs || isOneStitch(second) ? null : IN_JOIN;
  if (startsWithChain(first)) return 'counting the st of the join as the first';
  return isOneStitch(first) ? null : IN_JOIN;
}

const IN_JOIN = 'starting in same st as join';

function isOneStitch(step: Step | undefined): boolean {
  return (step?.do === 'stitch' && step.into === 'stitch' && step.times === 1) || step?.do === 'increase';
}

function startsWithChain(step: Step): boolean {
  return step.do === 'chain' || (step.do === 'repeat' && startsWithChain(step.steps[0]));
}

/** The step that takes the stitch of the join: after a beginning chain that does not count, else the first. */
function firstAfterJoin({ starts, steps }: Round): number {
  if (starts !== 'joining stitch') return -1;
  const [first] = steps;
  if (first.do !== 'turning-chain') return 0;
  return first.countsAs === null ? 1 : -1;
}

function stepPhrases(step: Step, round: Round, voice: Voice, isFirst: boolean): string[] {
  const name = voice.stitch;
  switch (step.do) {
    case 'ring':
      return ['make an adjustable ring'];
    case 'turning-chain':
      return [`ch ${step.chains} (${step.countsAs ? `counts as ${name(step.countsAs)}` : 'does not count as st'})`];
    case 'stitch':
      return stitchPhrases(step, round, voice, isFirst);
    case 'increase':
      if (isFirst) return [`${step.made} ${name(step.stitch)} in same st as join`];
      return [step.made === 2 ? 'inc' : `${step.made} ${name(step.stitch)} in next st`];
    case 'together':
      return [`${name(step.stitch)}${step.joined}tog`];
    case 'chain':
      return [`ch ${step.chains}`];
    case 'skip':
      return [skipPhrase(step, voice)];
    case 'join':
      return [joinPhrase(round, voice)];
    case 'level':
      return [
        step.into === 'space'
          ? `${name('sl st')} in next ch-sp to close the spiral`
          : `${name('sl st')} in next st to level`,
      ];
    case 'repeat':
      return [repeatPhrase(step, round, voice)];
    case 'tab':
      return [tabPhrase(step, voice)];
    case 'cord':
      return [cordPhrase(step, voice)];
    case 'strip':
      return [stripPhrase(step, voice)];
  }
}

function stitchPhrases(step: StepOf<'stitch'>, round: Round, voice: Voice, isFirst: boolean): string[] {
  const { into, times } = step;
  const stitch = voice.stitch(step.stitch);
  switch (into) {
    case 'ring':
      return [`${times} ${stitch} in ring`, 'pull ring closed'];
    case 'same':
      return [`${times === 1 ? '' : `${times} `}${stitch} in same ${round.spaces > 0 ? 'ch-sp' : 'st'}`];
    case 'space':
      return [times === 1 ? `${stitch} in next ch-sp` : `${stitch} in each of next ${times} ch-sps`];
    case 'stitch':
      if (times === 1) return [`${stitch} in ${isFirst ? 'same st as join' : 'next st'}`];
      return [isWholeRound(step, round) ? `${stitch} in each st around` : `${stitch} in next ${times} sts`];
  }
}

function skipPhrase({ place, count }: StepOf<'skip'>, { reader }: Voice): string {
  const skip = reader.terms === 'uk' ? 'miss' : 'sk';
  if (place === 'space') return count === 1 ? `${skip} ch-sp` : `${skip} ${count} ch-sps`;
  return count === 1 ? `${skip} 1 st` : `${skip} ${count} sts`;
}

function joinPhrase({ steps, stitch }: Round, voice: Voice): string {
  const chain = steps.find((step) => step.do === 'turning-chain');
  const into = chain?.countsAs ? `top of beg ch-${chain.chains}` : `first ${stitch ? voice.stitch(stitch) : 'st'}`;
  return `join with ${voice.stitch('sl st')} in ${into}`;
}

function repeatPhrase(step: StepOf<'repeat'>, round: Round, voice: Voice): string {
  const [only] = step.steps;
  if (step.steps.length === 1 && only.do === 'increase' && only.made === 2) {
    return isEveryStitch(step, round) ? 'inc in each st around' : `inc in each of next ${step.times} sts`;
  }
  return `(${phrasesOf(step.steps, round, voice).join(', ')}) ${step.times} times`;
}

function tabPhrase({ stitches, rows }: StepOf<'tab'>, voice: Voice): string {
  const sc = voice.stitch('sc');
  return (
    `join yarn with ${voice.stitch('sl st')} at the mark, ch 1 (does not count as st), ${sc} in same st and in next ` +
    `${stitches - 1} sts, turn; rows 2–${rows}: ch 1, ${sc} in each of the ${stitches} sts, turn; fasten off`
  );
}

function cordPhrase({ stitches }: StepOf<'cord'>, voice: Voice): string {
  const sc = voice.stitch('sc');
  const left = voice.reader.hand === 'left';
  return (
    `ch 2, ${sc} in 2nd ch from hook; *turn the work ${left ? 'clockwise' : 'anticlockwise'}, insert hook under the ` +
    `2 loops at its ${left ? 'right' : 'left'} edge, yo, pull up a loop, yo, pull through both; ` +
    `rep from * (about ${stitches} sts)`
  );
}

function stripPhrase({ stitches, rows }: StepOf<'strip'>, voice: Voice): string {
  const sc = voice.stitch('sc');
  const each = stitches === 1 ? `${sc} in the st` : `${sc} in each of the ${stitches} sts`;
  return `ch ${stitches + 1}, ${sc} in 2nd ch from hook and in each ch (${stitches} ${sc}), turn; *ch 1, ${each}, turn; rep from * (about ${rows} rows)`;
}

function vStitchPhrase(pair: NonNullable<ReturnType<typeof vStitchAt>>, voice: Voice, isFirst: boolean): string {
  const into = { stitch: isFirst ? 'same st as join' : 'next st', space: 'next ch-sp', same: 'same ch-sp' }[pair.into];
  return `ch-${pair.chains} ${voice.stitch(pair.stitch)} V in ${into}`;
}
