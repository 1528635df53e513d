import type { Estimate } from '../../sizing/estimate.ts';
import type { Advice } from '../../sizing/follow/replan.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { replanWith } from '../plan/current-plan.ts';
import type { Reading } from '../plan/plan-progress.ts';

/** What a reading means for the work, in the fewest words. */
export type Course =
  | { readonly kind: 'go-on' }
  | { readonly kind: 'changed' }
  | { readonly kind: 'more-rounds' | 'fewer-rounds'; readonly count: number }
  | { readonly kind: 'rip-back'; readonly toRound: number };

export interface Verdict {
  readonly course: Course;
  readonly advice: Advice;
  /** The plan with the reading folded in. */
  readonly after: Plan;
  /** What the plan expected here; null when the counts are not the plan's. */
  readonly expectedMm: Estimate | null;
}

/** What the plan makes of a reading on the work; null when it cannot be the size of that round. */
export function verdictOn(plan: Plan, reading: Reading): Verdict | null {
  const result = replanWith(plan, reading);
  if (result.outcome === 'refused') return null;
  const { advice, plan: after } = result;
  return { course: courseOf(plan, after, advice), advice, after, expectedMm: expectedWidth(plan, reading) };
}

export function courseOf(before: Plan, after: Plan, { action, keepRounds }: Advice): Course {
  if (action === 'rip back') return { kind: 'rip-back', toRound: keepRounds };
  if (action === 'go on') return { kind: 'go-on' };
  const more = bodyRounds(after) - bodyRounds(before);
  if (more === 0) return { kind: 'changed' };
  return { kind: more > 0 ? 'more-rounds' : 'fewer-rounds', count: Math.abs(more) };
}

/** Base, wall and net; band and strap follow from them. */
function bodyRounds({ parts }: Plan): number {
  return parts
    .filter(({ name }) => name === 'base' || name === 'wall' || name === 'mesh')
    .reduce((sum, { rounds }) => sum + rounds.length, 0);
}

/** Width across the disc, or half of what the tube measures all the way round. */
function expectedWidth(plan: Plan, { afterRound, stitches }: Reading): Estimate | null {
  const round = roundNumbered(plan, afterRound);
  if (!round || (stitches !== undefined && stitches !== round.stitches)) return null;
  if (round.part === 'base') return round.widthMm;
  const { value, sd } = plan.gauge.stitchWidthMm;
  return { value: (round.stitches * value) / 2, sd: (round.stitches * sd) / 2 };
}

/**
 * Length of the tube laid flat: the wall up to this round, and the base that is folded in half. A derived figure for
 * comparison only; how the fold lies is worth a few mm.
 */
export function plannedLength(plan: Plan, afterRound: number): Estimate | null {
  const round = roundNumbered(plan, afterRound);
  const base = plan.parts.find(({ name }) => name === 'base')?.rounds.at(-1)?.widthMm;
  if (!round?.heightMm || !base) return null;
  return {
    value: round.heightMm.value + base.value / 2,
    sd: Math.hypot(round.heightMm.sd, base.sd / 2),
  };
}

export function roundNumbered(plan: Plan, number: number): Round | null {
  return plan.parts.flatMap(({ rounds }) => rounds).find((round) => round.number === number) ?? null;
}

/** What can be photographed after this round: the disc, the tube laid flat, or nothing that keeps its width. */
export function pieceAfter(round: Pick<Round, 'part'>): 'disc' | 'tube' | null {
  return round.part === 'base' ? 'disc' : round.part === 'wall' ? 'tube' : null;
}
