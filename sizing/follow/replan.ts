import { baseTarget } from '../base/base.ts';
import type { WorkedRound } from '../base/base-candidates.ts';
import { meridianOf } from '../body/meridian.ts';
import { buildPlan, NOTHING_WORKED, type WorkedSoFar } from '../build-plan.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import { isOwnPiece, type Part, type Plan, type Round } from '../plan.ts';
import {
  type Field,
  type Refusal,
  RefusedInput,
  refuseInconsistent,
  requireInRange,
  requireWhole,
} from '../refusal.ts';
import { bestContinuation } from './checkpoints.ts';
import { discWidth, gaugeAfterWallWidth, gaugeAfterWidth } from './gauge-update.ts';

/** What the maker found on the work. One of width and height is given. */
export interface Progress {
  /** The last round worked, counted as in the plan. */
  readonly afterRound: number;
  /** Base: across the disc, patted flat. Solid wall: across the tube laid flat. */
  readonly measuredWidthMm?: number;
  /** Wall and mesh: the edge above the table, on the container. */
  readonly measuredHeightMm?: number;
  /** Standard uncertainty of the reading. */
  readonly sdMm: number;
  /** She looked again: a reading is taken however unlikely it is. */
  readonly confirmed?: boolean;
}

/** A disc measured on its own, from a photo for example. */
export interface Disc {
  readonly roundsWorked: number;
  readonly stitchCount: number;
  readonly measuredWidthMm: number;
  readonly sdMm: number;
  readonly confirmed?: boolean;
}

export interface Advice {
  readonly action: 'go on' | 'go on, changed' | 'rip back';
  /** The last round that stays. */
  readonly keepRounds: number;
  readonly measuredMm: number;
  readonly expectedMm: number;
  /** What the next round now ends with, where it has changed. */
  readonly next: { readonly round: number; readonly stitches: number } | null;
}

export type ReplanResult =
  | { readonly outcome: 'planned'; readonly plan: Plan; readonly advice: Advice }
  | { readonly outcome: 'refused'; readonly reason: Refusal };

/**
 * Folds a measurement of the work into the gauge, weighted by both uncertainties, and plans the rounds that remain.
 * Rounds already worked stay as they are unless ripping back makes the base clearly better; the advice says so.
 */
export function replan(plan: Plan, progress: Progress): ReplanResult {
  return refusalsAsResult(() => {
    const round = roundAfter(plan, progress);
    if (progress.measuredHeightMm !== undefined) return afterHeight(plan, progress, round, progress.measuredHeightMm);
    if (progress.measuredWidthMm === undefined) {
      refuseInconsistent('progress', null, { why: 'nothing-measured' });
    }
    if (round.part === 'base')
      return afterBaseWidth(plan, workedBase(plan, progress.afterRound), progress.measuredWidthMm, progress);
    if (round.part === 'wall') return afterWallWidth(plan, progress, round, progress.measuredWidthMm);
    return refuseInconsistent('progress.measuredWidthMm', progress.measuredWidthMm, { why: 'width-of-mesh' });
  });
}

/** As `replan` for a base, by the rounds and stitches counted on the disc; they may differ from the plan's. */
export function replanFromDisc(plan: Plan, disc: Disc): ReplanResult {
  return refusalsAsResult(() => {
    checkDisc(disc);
    const planned = workedBase(plan, disc.roundsWorked);
    const asPlanned = planned.length === disc.roundsWorked && planned[planned.length - 1].stitches === disc.stitchCount;
    const worked = asPlanned ? planned : discRounds(disc, plan.gauge);
    return afterBaseWidth(plan, worked, disc.measuredWidthMm, disc);
  });
}

/** Stitch width and round height that a measured disc speaks for, together with what was believed before. */
export function gaugeFromDisc(before: Gauge, disc: Disc): Gauge {
  return gaugeAfterWidth(before, discRounds(disc, before), disc.measuredWidthMm, disc.sdMm);
}

function afterBaseWidth(
  plan: Plan,
  worked: readonly WorkedRound[],
  measuredMm: number,
  how: Pick<Progress, 'sdMm' | 'confirmed'>,
): Replanned {
  const expected = discWidth(worked, plan.gauge);
  const { sdMm } = how;
  requireReading('progress.measuredWidthMm', measuredMm, expected, how);
  const gauge = gaugeAfterWidth(plan.gauge, worked, measuredMm, sdMm);
  const choices = { ...plan.choices, baseCandidate: 0 };
  const reading = { measuredMm, expectedMm: expected.value };
  if (plan.ownCounts && ownCountsStay(plan, worked, gauge)) {
    const rounds = worked.length;
    const onHook = { ...NOTHING_WORKED, rounds, base: workedBase(plan, Infinity), baseFinished: true, ownCounts: true };
    const result = withWorkedRounds(plan, buildPlan(plan.container, gauge, choices, onHook), rounds);
    return { plan: result, advice: onwardAdvice(plan, result, rounds, reading) };
  }
  const target = baseTarget(plan.container, meridianOf(plan.container), plan.choices);
  const { kept, shape } = bestContinuation({ target, gauge, choices }, worked, workedBase(plan, Infinity));
  const next = buildPlan(plan.container, gauge, choices, {
    ...NOTHING_WORKED,
    rounds: kept,
    base: worked.slice(0, kept),
    baseFinished: kept > 0 && shape.rounds.length === kept,
    aims: shape.aims,
  });
  const result = withWorkedRounds(plan, next, kept);
  if (kept < worked.length) return { plan: result, advice: ripBack(result, kept, reading) };
  return { plan: result, advice: onwardAdvice(plan, result, kept, reading) };
}

/** A maker's own base is kept while it comes out within this of what was expected, as ln: what a regraded one keeps to. */
const OWN_COUNTS_STAY = 0.035;

function ownCountsStay(plan: Plan, worked: readonly WorkedRound[], gauge: Gauge): boolean {
  const planned = workedBase(plan, Infinity);
  if (worked.some(({ stitches }, index) => planned[index]?.stitches !== stitches)) return false;
  return Math.abs(Math.log(discWidth(planned, gauge).value / discWidth(planned, plan.gauge).value)) <= OWN_COUNTS_STAY;
}

function afterWallWidth(plan: Plan, progress: Progress, round: Round, measuredMm: number): Replanned {
  const expectedMm = (round.stitches * plan.gauge.stitchWidthMm.value) / 2;
  const sd = (expectedMm * plan.gauge.stitchWidthMm.sd) / plan.gauge.stitchWidthMm.value;
  requireReading('progress.measuredWidthMm', measuredMm, { value: expectedMm, sd }, progress);
  const gauge = gaugeAfterWallWidth(plan.gauge, round.stitches, measuredMm, progress.sdMm);
  return keptWork(plan, { gauge, heightFactor: plan.heightFactor }, progress.afterRound, { measuredMm, expectedMm });
}

function afterHeight(plan: Plan, progress: Progress, round: Round, measuredMm: number): Replanned {
  const expected = round.heightMm;
  if (expected === null || (round.part !== 'wall' && round.part !== 'mesh')) {
    return refuseInconsistent('progress.measuredHeightMm', measuredMm, { why: 'height-of-base' });
  }
  requireReading('progress.measuredHeightMm', measuredMm, expected, progress);
  const priorRelativeSd = plan.gauge.roundHeightMm.sd / plan.gauge.roundHeightMm.value;
  const readingRelativeSd = progress.sdMm / expected.value;
  const weight = priorRelativeSd ** 2 / (priorRelativeSd ** 2 + readingRelativeSd ** 2);
  const factor = plan.heightFactor * (measuredMm / expected.value) ** weight;
  const reading = { measuredMm, expectedMm: expected.value };
  return keptWork(plan, { gauge: plan.gauge, heightFactor: factor }, progress.afterRound, reading);
}

/**
 * Everything up to the round stays; what follows is planned with the new gauge or round height. Where the work has grown
 * past its end, or its last round came down level and now more must follow, the last rounds are ripped back.
 */
function keptWork(plan: Plan, { gauge, heightFactor }: Learnt, afterRound: number, reading: Reading): Replanned {
  const choices = { ...plan.choices, baseCandidate: 0 };
  const planFrom = (rounds: number) =>
    buildPlan(plan.container, gauge, choices, workedSoFar(plan, rounds, heightFactor));
  const lastOfBase = roundsOf(plan, 'base', afterRound).length;
  let kept = Math.min(afterRound, bodyEnd(planFrom(lastOfBase)));
  let next = planFrom(kept);
  if (kept > lastOfBase && kept > 1 && !sameSteps(plan, next, kept)) {
    kept -= 1;
    next = planFrom(kept);
  }
  const result = withWorkedRounds(plan, next, kept);
  if (kept < afterRound) return { plan: result, advice: ripBack(result, kept, reading) };
  return { plan: result, advice: onwardAdvice(plan, result, afterRound, reading) };
}

interface Learnt {
  readonly gauge: Gauge;
  readonly heightFactor: number;
}

interface Reading {
  readonly measuredMm: number;
  readonly expectedMm: number;
}

function workedSoFar(plan: Plan, rounds: number, heightFactor: number): WorkedSoFar {
  return {
    rounds,
    base: workedBase(plan, rounds),
    baseFinished: true,
    aims: ['fit'],
    wall: roundsOf(plan, 'wall', rounds).map((round) => round.stitches),
    mesh: roundsOf(plan, 'mesh', rounds).map((round) => cellsOf(plan, round)),
    heightFactor,
    ownCounts: plan.ownCounts,
  };
}

/** The last round below the band. */
function bodyEnd(plan: Plan): number {
  return allRounds(plan.parts).filter(({ part }) => part !== 'band' && !isOwnPiece(part)).length;
}

function sameSteps(before: Plan, after: Plan, number: number): boolean {
  const [a, b] = [before, after].map(({ parts }) => allRounds(parts)[number - 1]);
  return a.part === b.part && JSON.stringify(a.steps) === JSON.stringify(b.steps);
}

interface Replanned {
  readonly plan: Plan;
  readonly advice: Advice;
}

function ripBack(plan: Plan, keepRounds: number, reading: Reading): Advice {
  return { action: 'rip back', keepRounds, ...reading, next: nextRound(plan, keepRounds) };
}

function onwardAdvice(before: Plan, after: Plan, keepRounds: number, reading: Reading): Advice {
  const unchanged =
    JSON.stringify(remainingWork(before, keepRounds)) === JSON.stringify(remainingWork(after, keepRounds));
  if (unchanged) return { action: 'go on', keepRounds, ...reading, next: null };
  return { action: 'go on, changed', keepRounds, ...reading, next: nextRound(after, keepRounds) };
}

function nextRound(plan: Plan, keepRounds: number): Advice['next'] {
  const next = remainingWork(plan, keepRounds)[0];
  return next ? { round: keepRounds + 1, stitches: next.stitches } : null;
}

function remainingWork(plan: Plan, afterRound: number): Pick<Round, 'steps' | 'stitches'>[] {
  return allRounds(plan.parts)
    .filter((round) => round.number > afterRound && !isOwnPiece(round.part))
    .map(({ steps, stitches }) => ({ steps, stitches }));
}

/** The new plan with the worked rounds exactly as the maker worked them. */
function withWorkedRounds(before: Plan, after: Plan, kept: number): Plan {
  const original = new Map(allRounds(before.parts).map((round) => [round.number, round]));
  const parts = after.parts.map((part) => ({
    ...part,
    rounds: part.rounds.map((round) => {
      const worked = original.get(round.number);
      const stays = worked && round.number <= kept && worked.stitches === round.stitches && worked.part === round.part;
      return stays ? { ...round, steps: worked.steps, notes: worked.notes } : round;
    }),
  }));
  return { ...after, parts };
}

function workedBase(plan: Plan, afterRound: number): WorkedRound[] {
  return roundsOf(plan, 'base', afterRound).map(({ stitches, stitch }) => ({
    stitches,
    stitch: stitch ?? plan.gauge.stitch,
  }));
}

function roundsOf(plan: Plan, part: Part['name'], afterRound: number): Round[] {
  return allRounds(plan.parts).filter((round) => round.part === part && round.number <= afterRound);
}

function cellsOf(plan: Plan, { number }: Round): { chains: number; cells: number } {
  const zone = plan.zones.find(({ fromRound, toRound }) => number >= fromRound && number <= toRound);
  return { chains: zone?.chains ?? 1, cells: zone?.cells ?? 1 };
}

function allRounds(parts: readonly Part[]): Round[] {
  return parts.flatMap((part) => part.rounds);
}

function roundAfter(plan: Plan, { afterRound, sdMm }: Progress): Round {
  const rounds = allRounds(plan.parts);
  requireWhole('progress.afterRound', afterRound, 1, rounds.length);
  requireInRange('progress.sdMm', sdMm, 0.01, 50, 'mm');
  return rounds[afterRound - 1];
}

/** A reading this many standard deviations off is asked back: across, not from the centre? on this round? */
const UNLIKELY_SDS = 3;

/** A reading far from what is expected is a slip of the ruler or the wrong round more often than a gauge. */
function requireReading(
  field: ReadingField,
  measuredMm: number,
  expected: Estimate,
  { sdMm, confirmed }: Pick<Progress, 'sdMm' | 'confirmed'>,
): void {
  const [least, most] = [Math.round(expected.value * 0.4), Math.round(expected.value * 2.5)];
  requireInRange(field, measuredMm, least, most, 'mm');
  requireInRange('progress.sdMm', sdMm, 0.01, measuredMm / 2, 'mm');
  if (confirmed || Math.abs(measuredMm - expected.value) <= UNLIKELY_SDS * Math.hypot(expected.sd, sdMm)) return;
  const times = measuredMm / expected.value;
  const perhaps = Math.abs(times - 0.5) < 0.08 ? 'radius' : Math.abs(times - 2) < 0.3 ? 'doubled' : 'another round';
  throw new RefusedInput({ code: 'unlikely-reading', field, value: measuredMm, expectedMm: expected.value, perhaps });
}

type ReadingField = Extract<Field, 'progress.measuredWidthMm' | 'progress.measuredHeightMm'>;

function checkDisc(disc: Disc): void {
  requireWhole('disc.roundsWorked', disc.roundsWorked, 1, 60);
  requireWhole('disc.stitchCount', disc.stitchCount, 3, 1000);
  requireInRange('disc.measuredWidthMm', disc.measuredWidthMm, 3, 800, 'mm');
  requireInRange('disc.sdMm', disc.sdMm, 0.01, disc.measuredWidthMm / 2, 'mm');
}

/** Rounds of a disc known by their number and the last count: stitches taken to grow evenly. */
function discRounds({ roundsWorked, stitchCount }: Disc, gauge: Gauge): WorkedRound[] {
  return Array.from({ length: roundsWorked }, (_, index) => ({
    stitches: Math.max(2, Math.round((stitchCount * (index + 1)) / roundsWorked)),
    stitch: gauge.stitch,
  }));
}

function refusalsAsResult(work: () => Replanned): ReplanResult {
  try {
    return { outcome: 'planned', ...work() };
  } catch (error) {
    if (error instanceof RefusedInput) return { outcome: 'refused', reason: error.refusal };
    throw error;
  }
}
