import * as v from 'valibot';
import { type Choices, checkChoices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, MATERIALS, type Material } from '../../sizing/container.ts';
import { type Advice, type ReplanResult, replan, replanFromDisc } from '../../sizing/follow/replan.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { type Refusal, RefusedInput } from '../../sizing/refusal.ts';

const Finite = v.pipe(v.number(), v.finite());

/** How far the work is: rounds are worked in order, so one number says which are done. */
export const PlanProgressSchema = v.object({
  roundsDone: v.pipe(v.number(), v.integer(), v.minValue(0)),
  /** What the maker measured on the work, in the order of the rounds. */
  readings: v.array(
    v.object({
      afterRound: v.pipe(v.number(), v.integer()),
      measure: v.picklist(['width', 'height']),
      mm: Finite,
      /** Standard uncertainty; a ruler's when left out. */
      sdMm: v.optional(Finite),
      /** Counted in the last round of a photographed disc, whose rounds need not be the plan's. */
      stitches: v.optional(v.pipe(v.number(), v.integer())),
      /** She looked again: taken however unlikely it is. */
      confirmed: v.optional(v.boolean()),
    }),
  ),
});
export type PlanProgress = v.InferOutput<typeof PlanProgressSchema>;
export type Reading = PlanProgress['readings'][number];

export const NOT_STARTED: PlanProgress = { roundsDone: 0, readings: [] };

export function planProgressFrom(kept: unknown): PlanProgress {
  return v.is(PlanProgressSchema, kept) ? kept : NOT_STARTED;
}

/** What the maker decides on the plan screen; the container's own mass belongs to what the carrier holds. */
export interface PlanChoices extends Choices {
  readonly material: Material | null;
  readonly emptyMassG: number | null;
}

/** Choices as kept; the default where nothing, or nothing the engine would take, was kept. */
export function choicesFrom(kept: unknown): PlanChoices {
  const standard: PlanChoices = { ...defaultChoices(), material: null, emptyMassG: null };
  if (!isObject(kept)) return standard;
  const part = <K extends 'mesh' | 'band' | 'strap'>(key: K): Choices[K] =>
    isObject(kept[key]) ? { ...standard[key], ...kept[key] } : standard[key];
  const choices: PlanChoices = { ...standard, ...kept, mesh: part('mesh'), band: part('band'), strap: part('strap') };
  const material = MATERIALS.find((each) => each === choices.material) ?? null;
  const emptyMassG = typeof choices.emptyMassG === 'number' ? choices.emptyMassG : null;
  try {
    checkChoices(choices);
    return { ...choices, material, emptyMassG };
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
export function currentPlan(
  container: Container,
  gauge: Gauge,
  { material, emptyMassG, ...choices }: PlanChoices,
  progress: PlanProgress,
): CurrentPlan {
  const first = planCarrier({ ...container, material, emptyMassG }, gauge, choices);
  if (first.outcome === 'refused') return first;
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
  return { outcome: 'planned', plan, rounds: plan.parts.flatMap((part) => part.rounds), answers };
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

/** The reading is right after all; what was measured later built on another plan and goes. */
export function withConfirmed(progress: PlanProgress, reading: Reading): PlanProgress {
  const earlier = withoutReading(progress, reading);
  return { ...progress, readings: [...earlier.readings, { ...reading, confirmed: true }] };
}

/** Takes back a reading and all that were taken after it, which built on it. */
export function withoutReading(progress: PlanProgress, reading: Reading): PlanProgress {
  return { ...progress, readings: progress.readings.slice(0, progress.readings.indexOf(reading)) };
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
