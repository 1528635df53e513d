import type { Container } from '../../sizing/container.ts';
import { type Advice, type ReplanResult, replan, replanFromDisc } from '../../sizing/follow/replan.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import type { Refusal } from '../../sizing/refusal.ts';
import { parseOwnPattern } from '../../sizing/regrade/own-pattern.ts';
import {
  type Disagreement,
  type OwnDesign,
  type RegradeNote,
  type RegradeResult,
  regrade,
} from '../../sizing/regrade/regrade.ts';
import { containerOf, type OwnRounds } from '../regrade/own-rounds.ts';
import type { PlanChoices, PlanProgress, Reading } from './plan-progress.ts';

export type CurrentPlan =
  | {
      readonly outcome: 'planned';
      readonly plan: Plan;
      /** Every round, the worked ones as they were worked. */
      readonly rounds: readonly Round[];
      readonly answers: readonly { readonly reading: Reading; readonly answer: Answer }[];
      /** What of her own rounds was kept, and what had to change; empty without any. */
      readonly regraded: readonly RegradeNote[];
    }
  | { readonly outcome: 'disagrees'; readonly disagreement: Disagreement }
  | { readonly outcome: 'refused'; readonly reason: Refusal };

/** What a reading led to: advice, or why it could not be used. */
export type Answer = { readonly advice: Advice } | { readonly refused: Refusal };

/** A ruler on soft work: common practice, no source. */
export const RULER_SD_MM = 1;

/** The plan with everything measured on the work folded in. */
export function currentPlan(
  container: Container,
  gauge: Gauge,
  choices: PlanChoices,
  progress: PlanProgress,
): CurrentPlan {
  const first = firstPlan(container, gauge, choices);
  if (first.outcome !== 'planned') return first;
  let { plan } = first;
  const answers: { reading: Reading; answer: Answer }[] = [];
  for (const reading of progress.readings) {
    const result = replanWith(plan, reading);
    if (result.outcome === 'planned') {
      plan = result.plan;
      answers.push({ reading, answer: { advice: result.advice } });
    } else {
      answers.push({ reading, answer: { refused: result.reason } });
    }
  }
  return {
    outcome: 'planned',
    plan,
    rounds: plan.parts.flatMap((part) => part.rounds),
    answers,
    regraded: first.notes,
  };
}

/** By her own rounds where she gave some, else by ours. */
function firstPlan(
  container: Container,
  gauge: Gauge,
  { material, emptyMassG, own, ...choices }: PlanChoices,
): RegradeResult {
  const filled = { ...container, material, emptyMassG };
  const design = own && designOf(own, gauge);
  if (design) return regrade(design, filled, choices);
  const made = planCarrier(filled, gauge, choices);
  return made.outcome === 'planned' ? { ...made, notes: [] } : made;
}

/** The plan with one reading folded in. */
export function replanWith(
  plan: Plan,
  { afterRound, measure, mm, sdMm = RULER_SD_MM, stitches, ...reading }: Reading,
): ReplanResult {
  // A photo measures across whatever the maker does; only a ruler is read from the centre by mistake.
  const confirmed = reading.confirmed ?? stitches !== undefined;
  if (stitches !== undefined) {
    return replanFromDisc(plan, {
      roundsWorked: afterRound,
      stitchCount: stitches,
      measuredWidthMm: mm,
      sdMm,
      confirmed,
    });
  }
  return replan(plan, {
    afterRound,
    sdMm,
    confirmed,
    ...(measure === 'width' ? { measuredWidthMm: mm } : { measuredHeightMm: mm }),
  });
}

/** Her design; null where the rounds cannot be read. */
function designOf({ rounds, madeFor, gaugeKnown }: OwnRounds, gauge: Gauge): OwnDesign | null {
  const parsed = parseOwnPattern(rounds.trim());
  if (parsed.outcome === 'not-read') return null;
  return { pattern: parsed.pattern, madeFor: containerOf(madeFor), gauge: gaugeKnown ? gauge : null };
}
