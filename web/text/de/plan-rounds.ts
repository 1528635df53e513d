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

/** Rounds in German, in the short form of printed patterns: "(3 fM, 1 M verd) 6×". */
export const germanRounds: RoundGrammar = {
  phrases: (round, voice) => {
    const phrases = phrasesOf(round.steps, round, voice, firstAfterJoin(round));
    const start = startPhrase(round);
    if (start === null) return phrases;
    const chain = round.steps[0].do === 'turning-chain' ? 1 : 0;
    return [...phrases.slice(0, chain), start, ...phrases.slice(chain)];
  },
  count: ({ steps, stitches, spaces }, voice) => {
    const { stitch } = madeOf(steps);
    const tops = `${stitches} ${stitch ? voice.stitch(stitch as FabricStitch) : 'M'}`;
    return spaces === 0 ? tops : `${tops}, ${spaces} Lm-Bögen`;
  },
  label: (from, to) => (from === to ? `${from}. Rd` : `${from}.–${to}. Rd`),
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
      phrases.push(`${together} ${voice.stitch(step.stitch)} um den nächsten Lm-Bogen`);
      index++;
    } else {
      phrases.push(...stepPhrases(step, round, voice, index === first));
    }
  }
  return phrases;
}

function startPhrase({ starts, steps }: Round): string | null {
  const [first, second] = steps;
  if (starts === 'closing space') return 'im Lm-Bogen der Km beginnen';
  if (starts !== 'joining stitch') return null;
  if (first.do === 'turning-chain') return first.countsAs || isOneStitch(second) ? null : IN_JOIN;
  if (startsWithChain(first)) return 'die M der Km als erste zählen';
  return isOneStitch(first) ? null : IN_JOIN;
}

const IN_JOIN = 'in der M der Km beginnen';

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
      return ['Fadenring'];
    case 'turning-chain':
      if (step.countsAs) return [`${step.chains} Lm (zählen als 1 ${name(step.countsAs)})`];
      return [`${step.chains} Lm (${step.chains === 1 ? 'zählt' : 'zählen'} nicht als M)`];
    case 'stitch':
      return stitchPhrases(step, round, voice, isFirst);
    case 'increase':
      if (isFirst) return [`${step.made} ${name(step.stitch)} in dieselbe M`];
      return [step.made === 2 ? '1 M verd' : `${step.made} ${name(step.stitch)} in die nächste M`];
    case 'together':
      return [`${step.joined} ${name(step.stitch)} zus. abmaschen`];
    case 'chain':
      return [`${step.chains} Lm`];
    case 'skip':
      return [
        step.place === 'space'
          ? `${step.count} Lm-${step.count === 1 ? 'Bogen' : 'Bögen'} übergehen`
          : `${step.count} M übergehen`,
      ];
    case 'join':
      return [joinPhrase(round, voice)];
    case 'level':
      return [`mit 1 Km ${step.into === 'space' ? 'um den nächsten Lm-Bogen' : 'in die nächste M'} schließen`];
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
      return [`${times} ${stitch} in den Ring`, 'Ring zuziehen'];
    case 'same':
      return [`${times} ${stitch} ${round.spaces > 0 ? 'um denselben Lm-Bogen' : 'in dieselbe M'}`];
    case 'space':
      return [
        times === 1 ? `1 ${stitch} um den nächsten Lm-Bogen` : `je 1 ${stitch} um die nächsten ${times} Lm-Bögen`,
      ];
    case 'stitch':
      if (times === 1 && isFirst) return [`1 ${stitch} in dieselbe M`];
      return [isWholeRound(step, round) ? `je 1 ${stitch} in jede M` : `${times} ${stitch}`];
  }
}

function joinPhrase({ steps, stitch }: Round, voice: Voice): string {
  const chain = steps.find((step) => step.do === 'turning-chain');
  if (chain?.countsAs) return `1 Km in die ${chain.chains}. Anfangs-Lm`;
  return `1 Km ${stitch === 'sc' ? 'in die erste' : 'in das erste'} ${stitch ? voice.stitch(stitch) : 'M'}`;
}

function repeatPhrase(step: StepOf<'repeat'>, round: Round, voice: Voice): string {
  const [only] = step.steps;
  if (step.steps.length === 1 && only.do === 'increase' && only.made === 2) {
    return isEveryStitch(step, round) ? 'jede M verd' : `die nächsten ${step.times} M verd`;
  }
  return `(${phrasesOf(step.steps, round, voice).join(', ')}) ${step.times}×`;
}

function tabPhrase({ stitches, rows }: StepOf<'tab'>, voice: Voice): string {
  const sc = voice.stitch('sc');
  return (
    `Faden an der Markierung mit 1 Km anschlingen, 1 Lm (zählt nicht als M), 1 ${sc} in dieselbe M und je 1 ${sc} in ` +
    `die nächsten ${stitches - 1} M, wenden; 2.–${rows}. Reihe: 1 Lm, ${stitches} ${sc}, wenden; Faden abschneiden`
  );
}

function cordPhrase({ stitches }: StepOf<'cord'>, voice: Voice): string {
  const left = voice.reader.hand === 'left';
  return (
    `2 Lm, 1 ${voice.stitch('sc')} in die 2. Lm ab Nadel; *die Arbeit ${left ? 'im' : 'gegen den'} Uhrzeigersinn drehen, ` +
    `unter den 2 Schlingen am ${left ? 'rechten' : 'linken'} Rand einstechen, Faden holen, Umschlag durch beide ziehen; ` +
    `ab * wdh (etwa ${stitches} M)`
  );
}

function stripPhrase({ stitches, rows }: StepOf<'strip'>, voice: Voice): string {
  const sc = voice.stitch('sc');
  return `${stitches + 1} Lm, ab der 2. Lm ab Nadel je 1 ${sc} in jede Lm (${stitches} ${sc}), wenden; *1 Lm, ${stitches} ${sc}, wenden; ab * wdh (etwa ${rows} Reihen)`;
}

function vStitchPhrase(pair: NonNullable<ReturnType<typeof vStitchAt>>, voice: Voice, isFirst: boolean): string {
  const into = {
    stitch: isFirst ? ' in dieselbe M' : '',
    space: ' um den nächsten Bogen',
    same: ' um denselben Bogen',
  }[pair.into];
  return `1 ${voice.stitch(pair.stitch)}-V mit ${pair.chains} Lm${into}`;
}
