import * as v from 'valibot';
import { type Choices, checkChoices, defaultChoices } from '../../sizing/choices.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { type Refusal, RefusedInput } from '../../sizing/refusal.ts';
import { type Advice, replan } from '../../sizing/replan.ts';

const Finite = v.pipe(v.number(), v.finite());

/** How far the work is: rounds are worked in order, so one number says which are done. */
export const PlanProgressSchema = v.object({
  roundsDone: v.pipe(v.number(), v.integer(), v.minValue(0)),
  /** What the maker measured on the work, in the order of the rounds. */
  readings: v.array(
    v.object({ afterRound: v.pipe(v.number(), v.integer()), measure: v.picklist(['width', 'height']), mm: Finite }),
  ),
});
export type PlanProgress = v.InferOutput<typeof PlanProgressSchema>;
export type Reading = PlanProgress['readings'][number];

export const NOT_STARTED: PlanProgress = { roundsDone: 0, readings: [] };

export function planProgressFrom(kept: unknown): PlanProgress {
  return v.is(PlanProgressSchema, kept) ? kept : NOT_STARTED;
}

/** Choices as kept; the default where nothing, or nothing the engine would take, was kept. */
export function choicesFrom(kept: unknown): Choices {
  const standard = defaultChoices();
  if (!isObject(kept)) return standard;
  const part = <K extends 'mesh' | 'band' | 'strap'>(key: K): Choices[K] =>
    isObject(kept[key]) ? { ...standard[key], ...kept[key] } : standard[key];
  const choices: Choices = { ...standard, ...kept, mesh: part('mesh'), band: part('band'), strap: part('strap') };
  try {
    checkChoices(choices);
    return choices;
  } catch (thrown) {
    if (thrown instanceof RefusedInput) return standard;
    throw thrown;
  }
}

export type CurrentPlan =
  | {
      readonly outcome: 'planned';
      readonly plan: Plan;
      /** Every round, the worked ones as they were worked. */
      readonly rounds: readonly Round[];
      readonly answers: readonly { readonly reading: Reading; readonly answer: Answer }[];
    }
  | { readonly outcome: 'refused'; readonly reason: Refusal };

/** What a reading led to: advice, or why it could not be used. */
export type Answer = { readonly advice: Advice } | { readonly refused: Refusal };

/** A ruler on soft work: common practice, no source. */
export const RULER_SD_MM = 1;

/** The plan with everything measured on the work folded in. */
export function currentPlan(container: Container, gauge: Gauge, choices: Choices, progress: PlanProgress): CurrentPlan {
  const first = planCarrier(container, gauge, choices);
  if (first.outcome === 'refused') return first;
  let { plan } = first;
  const answers: { reading: Reading; answer: Answer }[] = [];
  for (const reading of progress.readings) {
    const result = replan(plan, {
      afterRound: reading.afterRound,
      sdMm: RULER_SD_MM,
      ...(reading.measure === 'width' ? { measuredWidthMm: reading.mm } : { measuredHeightMm: reading.mm }),
    });
    if (result.outcome === 'planned') {
      plan = result.plan;
      answers.push({ reading, answer: { advice: result.advice } });
    } else {
      answers.push({ reading, answer: { refused: result.reason } });
    }
  }
  return { outcome: 'planned', plan, rounds: plan.parts.flatMap((part) => part.rounds), answers };
}

/** Ticking a round says that all before it are done; unticking it, that it is the next. */
export function ticked(progress: PlanProgress, round: number, isDone: boolean): PlanProgress {
  return { ...progress, roundsDone: isDone ? round : round - 1 };
}

/** Takes a reading in. The round it was taken after is done; advice to rip back undoes rounds. */
export function withReading(progress: PlanProgress, reading: Reading, advice: Advice | null): PlanProgress {
  const roundsDone =
    advice?.action === 'rip back' ? advice.keepRounds : Math.max(progress.roundsDone, reading.afterRound);
  return { readings: [...progress.readings, reading], roundsDone };
}

/** Takes back a reading and all that were taken after it, which built on it. */
export function withoutReading(progress: PlanProgress, reading: Reading): PlanProgress {
  return { ...progress, readings: progress.readings.slice(0, progress.readings.indexOf(reading)) };
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
