import type { Round, Step } from '../../sizing/plan.ts';
import { roundInWords } from '../../sizing/words.ts';
import type { Settings } from '../app/settings.ts';
import { shortStitch } from './stitch-words.ts';

/** One round as a maker writes it, in US, UK or German crochet language; without number and stitch count. */
export function roundText(round: Round, { terms, units }: Pick<Settings, 'terms' | 'units'>): string {
  if (terms === 'de') return capitalised(germanSteps(round.steps, round).join(', '));
  return capitalised(roundInWords(round, { terms, units }).replace(/ — .*$/, ''));
}

function germanSteps(steps: readonly Step[], round: Round): string[] {
  const phrases: string[] = [];
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index];
    const next = steps[index + 1];
    const together =
      step.do === 'stitch' &&
      step.into === 'space' &&
      step.times === 1 &&
      next?.do === 'stitch' &&
      next.into === 'same';
    if (together && next.stitch === step.stitch) {
      phrases.push(`${next.times + 1} ${name(step.stitch)} um den nächsten Lm-Bogen`);
      index++;
    } else {
      phrases.push(germanStep(step, round));
    }
  }
  return phrases;
}

function germanStep(step: Step, round: Round): string {
  switch (step.do) {
    case 'ring':
      return 'Fadenring';
    case 'turning-chain':
      return step.countsAs
        ? `${step.chains} Lm (zählen als 1 ${name(step.countsAs)})`
        : `${step.chains} Lm (zählt nicht als Masche)`;
    case 'stitch':
      return germanStitches(step, round);
    case 'increase':
      return `${step.made} ${name(step.stitch)} in die nächste M`;
    case 'together':
      return `${step.joined} ${name(step.stitch)} zus. abmaschen`;
    case 'chain':
      return `${step.chains} Lm`;
    case 'skip':
      return step.place === 'space' ? `${count(step.count)}Lm-Bogen übergehen` : `${step.count} M übergehen`;
    case 'join':
      return '1 Km in die erste M';
    case 'level':
      return '1 Km in die nächste M zum Ausgleich';
    case 'cord':
      return `${step.stitches} M der Kordel`;
    case 'repeat':
      return germanRepeat(step, round);
  }
}

function germanStitches({ stitch, into, times }: Extract<Step, { do: 'stitch' }>, round: Round): string {
  switch (into) {
    case 'ring':
      return `${times} ${name(stitch)} in den Ring`;
    case 'same':
      return `${times} ${name(stitch)} in dieselbe Einstichstelle`;
    case 'space':
      return times === 1
        ? `1 ${name(stitch)} um den nächsten Lm-Bogen`
        : `je 1 ${name(stitch)} um die nächsten ${times} Lm-Bögen`;
    case 'stitch':
      if (times === 1) return `1 ${name(stitch)} in die nächste M`;
      return times === round.stitches
        ? `1 ${name(stitch)} in jede M der Runde`
        : `je 1 ${name(stitch)} in die nächsten ${times} M`;
  }
}

function germanRepeat(step: Extract<Step, { do: 'repeat' }>, round: Round): string {
  const [only] = step.steps;
  if (step.steps.length === 1 && only.do === 'increase') {
    return `je ${only.made} ${name(only.stitch)} in die nächsten ${step.times} M`;
  }
  const inner = germanSteps(step.steps, round).join(', ');
  const nested = step.steps.some((each) => each.do === 'repeat');
  return nested ? `${step.times}× [${inner}]` : `${step.times}× (${inner})`;
}

function name(stitch: Parameters<typeof shortStitch>[0]): string {
  return shortStitch(stitch, 'de');
}

function count(number: number): string {
  return number === 1 ? '1 ' : `${number} `;
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
