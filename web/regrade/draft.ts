import * as v from 'valibot';
import { MOST_SIZES } from '../../sizing/regrade/size-set.ts';
import type { Job } from '../app/app-state.ts';
import { containerOfJob } from '../keep/job-of-record.ts';
import type { OwnRounds } from './own-rounds.ts';

const LengthMm = v.nullable(v.pipe(v.number(), v.finite()));
const Sizes = v.object({ diameterMm: LengthMm, heightMm: LengthMm });

/** What is typed on the screen for her own rounds, as far as it goes. */
const DraftSchema = v.object({
  rounds: v.string(),
  madeFor: Sizes,
  gaugeKnown: v.boolean(),
  /** Typed sizes, or the container in hand or a kept one by its id. */
  targets: v.pipe(
    v.array(v.object({ containerId: v.nullable(v.string()), ...Sizes.entries })),
    v.minLength(1),
    v.maxLength(MOST_SIZES),
  ),
});
export type Draft = v.InferOutput<typeof DraftSchema>;
export type Target = Draft['targets'][number];

export const NO_TARGET: Target = { containerId: null, diameterMm: null, heightMm: null };
const EMPTY: Draft = {
  rounds: '',
  madeFor: { diameterMm: null, heightMm: null },
  gaugeKnown: false,
  targets: [NO_TARGET],
};

/** What was typed in this tab before; else the rounds the plan in hand is made from, for the container in hand. */
export function firstDraft(job: Job | null): Draft {
  const typed = draftOfTab();
  const inHand = job && containerOfJob(job) ? { ...NO_TARGET, containerId: job.id } : NO_TARGET;
  if (typed) return typed.targets[0] === NO_TARGET ? { ...typed, targets: [inHand] } : typed;
  const own = job?.choices?.own;
  return { ...EMPTY, ...own, targets: [inHand] };
}

/** The rounds a plan can be made from; null while the container they fit has no sizes. */
export function ownRoundsOf({ rounds, madeFor, gaugeKnown }: Draft): OwnRounds | null {
  const { diameterMm, heightMm } = madeFor;
  if (diameterMm === null || heightMm === null) return null;
  return { rounds: rounds.trim(), madeFor: { diameterMm, heightMm }, gaugeKnown };
}

const KEY = 'roundwise-own-rounds';

function draftOfTab(): Draft | null {
  try {
    const read = v.safeParse(DraftSchema, JSON.parse(sessionStorage.getItem(KEY) ?? 'null'));
    return read.success ? read.output : null;
  } catch {
    return null;
  }
}

/** For a reload of this tab. */
export function keepDraft(draft: Draft): void {
  try {
    sessionStorage.setItem(KEY, JSON.stringify(draft));
  } catch {
    // What cannot be kept is still on the screen.
  }
}
