import type { Round, Step } from '../plan.ts';
import type { Stitch } from '../stitches.ts';

/** How many of each stitch are made, turning chains and slip stitches included. */
export type Tally = Readonly<Record<Stitch | 'cord', number>>;

const NOTHING: Tally = { sc: 0, hdc: 0, dc: 0, tr: 0, ch: 0, 'sl st': 0, cord: 0 };

export function tallyRounds(rounds: readonly Round[]): Tally {
  return rounds.reduce((sum, round) => added(sum, tallySteps(round.steps), 1), NOTHING);
}

export function tallySteps(steps: readonly Step[]): Tally {
  return steps.reduce((sum, step) => added(sum, tallyStep(step), 1), NOTHING);
}

function tallyStep(step: Step): Tally {
  switch (step.do) {
    case 'stitch':
      return { ...NOTHING, [step.stitch]: step.times };
    case 'increase':
      return { ...NOTHING, [step.stitch]: step.made };
    case 'together':
      return { ...NOTHING, [step.stitch]: step.joined };
    case 'chain':
    case 'turning-chain':
      return { ...NOTHING, ch: step.chains };
    case 'join':
    case 'level':
      return { ...NOTHING, 'sl st': 1 };
    case 'cord':
      return { ...NOTHING, cord: step.stitches * step.pieces };
    case 'tab':
      // A turning chain each row, and a slip stitch to join the yarn.
      return {
        ...NOTHING,
        sc: step.stitches * step.rows * step.pieces,
        ch: step.rows * step.pieces,
        'sl st': step.pieces,
      };
    case 'strip':
      // A chain to start on and one to turn each row.
      return {
        ...NOTHING,
        sc: step.stitches * step.rows * step.pieces,
        ch: (step.stitches + step.rows) * step.pieces,
      };
    case 'repeat':
      return added(NOTHING, tallySteps(step.steps), step.times);
    case 'ring':
    case 'skip':
      return NOTHING;
  }
}

function added(sum: Tally, more: Tally, times: number): Tally {
  return {
    sc: sum.sc + times * more.sc,
    hdc: sum.hdc + times * more.hdc,
    dc: sum.dc + times * more.dc,
    tr: sum.tr + times * more.tr,
    ch: sum.ch + times * more.ch,
    'sl st': sum['sl st'] + times * more['sl st'],
    cord: sum.cord + times * more.cord,
  };
}
