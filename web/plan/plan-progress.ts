import * as v from 'valibot';
import { type Choices, checkChoices, defaultChoices } from '../../sizing/choices.ts';
import { MATERIALS, type Material } from '../../sizing/container.ts';
import type { Advice } from '../../sizing/follow/replan.ts';
import { RefusedInput } from '../../sizing/refusal.ts';
import { type OwnRounds, OwnRoundsSchema } from '../regrade/own-rounds.ts';

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
  /** Her own rounds, for another container: the plan then keeps to them. */
  readonly own: OwnRounds | null;
}

/** Choices as kept; the default where nothing, or nothing the engine would take, was kept. */
export function choicesFrom(kept: unknown): PlanChoices {
  const standard: PlanChoices = { ...defaultChoices(), material: null, emptyMassG: null, own: null };
  if (!isObject(kept)) return standard;
  const part = <K extends 'mesh' | 'band' | 'stripes' | 'strap'>(key: K): Choices[K] =>
    isObject(kept[key]) ? { ...standard[key], ...kept[key] } : standard[key];
  const choices: PlanChoices = {
    ...standard,
    ...kept,
    mesh: part('mesh'),
    band: part('band'),
    stripes: part('stripes'),
    strap: part('strap'),
  };
  const material = MATERIALS.find((each) => each === choices.material) ?? null;
  const emptyMassG = typeof choices.emptyMassG === 'number' ? choices.emptyMassG : null;
  const own = v.is(OwnRoundsSchema, kept.own) ? kept.own : null;
  try {
    checkChoices(choices);
    return { ...choices, material, emptyMassG, own };
  } catch (thrown) {
    if (thrown instanceof RefusedInput) return standard;
    throw thrown;
  }
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
