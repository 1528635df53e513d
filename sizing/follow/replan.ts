import { baseTarget } from '../base/base.ts';
import type { WorkedRound } from '../base/base-candidates.ts';
import { meridianOf } from '../body/meridian.ts';
import { buildPlan, NOTHING_WORKED, type WorkedSoFar } from '../build-plan.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import type { Part, Plan, Round } from '../plan.ts';
import { type Refusal, RefusedInput, refuseInconsistent, requireInRange, requireWhole } from '../refusal.ts';
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
}

/** A disc measured on its own, from a photo for example. */
export interface Disc {
  readonly roundsWorked: number;
  readonly stitchCount: number;
  readonly measuredWidthMm: number;
  readonly sdMm: number;
}

export interface Advice {
  readonly action: 'go on' | 'go on, changed' | 'rip back';
  /** The last round that stays. */
  readonly keepRounds: number;
  /** One sentence; carries lengths and stitches for `inWords`. */
  readonly message: string;
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
      refuseInconsistent('progress', null, 'Give the width or the height you measured.');
    }
    if (round.part === 'base')
      return afterBaseWidth(plan, workedBase(plan, progress.afterRound), progress.measuredWidthMm, progress.sdMm);
    if (round.part === 'wall') return afterWallWidth(plan, progress, round, progress.measuredWidthMm);
    return refuseInconsistent(
      'progress.measuredWidthMm',
      progress.measuredWidthMm,
      'The width of a mesh depends on how far it is drawn open: measure its height on the container instead.',
    );
  });
}

/** As `replan` for a base, by the rounds and stitches counted on the disc; they may differ from the plan's. */
export function replanFromDisc(plan: Plan, disc: Disc): ReplanResult {
  return refusalsAsResult(() => {
    checkDisc(disc);
    const planned = workedBase(plan, disc.roundsWorked);
    const asPlanned = planned.length === disc.roundsWorked && planned[planned.length - 1].stitches === disc.stitchCount;
    const worked = asPlanned ? planned : discRounds(disc, plan.gauge);
    return afterBaseWidth(plan, worked, disc.measuredWidthMm, disc.sdMm);
  });
}

/** Stitch width and round height that a measured disc speaks for, together with what was believed before. */
export function gaugeFromDisc(before: Gauge, disc: Disc): Gauge {
  return gaugeAfterWidth(before, discRounds(disc, before), disc.measuredWidthMm, disc.sdMm);
}

function afterBaseWidth(plan: Plan, worked: readonly WorkedRound[], measuredMm: number, sdMm: number): Replanned {
  const expected = discWidth(worked, plan.gauge);
  requireReading('measuredWidthMm', measuredMm, sdMm, expected.value);
  const gauge = gaugeAfterWidth(plan.gauge, worked, measuredMm, sdMm);
  const target = baseTarget(plan.container, meridianOf(plan.container), plan.choices);
  const choices = { ...plan.choices, baseCandidate: 0 };
  const { kept, shape } = bestContinuation(target, gauge, choices, worked);
  const next = buildPlan(plan.container, gauge, choices, {
    ...NOTHING_WORKED,
    rounds: kept,
    base: worked.slice(0, kept),
    baseFinished: kept > 0 && shape.rounds.length === kept,
  });
  const result = withWorkedRounds(plan, next, kept);
  const reading = readingInWords(measuredMm, expected);
  if (kept < worked.length) {
    const message =
      kept === 0
        ? `${reading} The base comes out better from a new start: rip it back and work the new rounds.`
        : `${reading} Rip back to the end of round ${kept} and work on from there.`;
    return { plan: result, advice: { action: 'rip back', keepRounds: kept, message } };
  }
  return { plan: result, advice: onwardAdvice(plan, result, kept, reading) };
}

function afterWallWidth(plan: Plan, progress: Progress, round: Round, measuredMm: number): Replanned {
  const expectedMm = (round.stitches * plan.gauge.stitchWidthMm.value) / 2;
  requireReading('measuredWidthMm', measuredMm, progress.sdMm, expectedMm);
  const gauge = gaugeAfterWallWidth(plan.gauge, round.stitches, measuredMm, progress.sdMm);
  return keptWork(
    plan,
    gauge,
    progress.afterRound,
    plan.heightFactor,
    readingInWords(measuredMm, { value: expectedMm, sd: 0 }),
  );
}

function afterHeight(plan: Plan, progress: Progress, round: Round, measuredMm: number): Replanned {
  const expected = round.heightMm;
  if (expected === null || (round.part !== 'wall' && round.part !== 'mesh')) {
    return refuseInconsistent(
      'progress.measuredHeightMm',
      measuredMm,
      'The height is checked on wall and mesh rounds; on the base, measure the width.',
    );
  }
  requireReading('measuredHeightMm', measuredMm, progress.sdMm, expected.value);
  const priorRelativeSd = plan.gauge.roundHeightMm.sd / plan.gauge.roundHeightMm.value;
  const readingRelativeSd = progress.sdMm / expected.value;
  const weight = priorRelativeSd ** 2 / (priorRelativeSd ** 2 + readingRelativeSd ** 2);
  const factor = plan.heightFactor * (measuredMm / expected.value) ** weight;
  return keptWork(plan, plan.gauge, progress.afterRound, factor, readingInWords(measuredMm, expected));
}

/** Everything up to the round stays; what follows is planned with the new gauge or round height. */
function keptWork(plan: Plan, gauge: Gauge, afterRound: number, heightFactor: number, reading: string): Replanned {
  const worked: WorkedSoFar = {
    rounds: afterRound,
    base: workedBase(plan, afterRound),
    baseFinished: true,
    wall: roundsOf(plan, 'wall', afterRound).map((round) => round.stitches),
    mesh: roundsOf(plan, 'mesh', afterRound).map((round) => cellsOf(plan, round)),
    heightFactor,
  };
  const next = buildPlan(plan.container, gauge, { ...plan.choices, baseCandidate: 0 }, worked);
  const result = withWorkedRounds(plan, next, afterRound);
  return { plan: result, advice: onwardAdvice(plan, result, afterRound, reading) };
}

interface Replanned {
  readonly plan: Plan;
  readonly advice: Advice;
}

function onwardAdvice(before: Plan, after: Plan, keepRounds: number, reading: string): Advice {
  const unchanged =
    JSON.stringify(remainingWork(before, keepRounds)) === JSON.stringify(remainingWork(after, keepRounds));
  if (unchanged) return { action: 'go on', keepRounds, message: `${reading} Go on as written.` };
  const next = remainingWork(after, keepRounds)[0];
  const where = next ? ` Round ${keepRounds + 1} now ends with ${next.stitches} stitches.` : '';
  return { action: 'go on, changed', keepRounds, message: `${reading} The rounds that follow have changed.${where}` };
}

function remainingWork(plan: Plan, afterRound: number): Pick<Round, 'steps' | 'stitches'>[] {
  return allRounds(plan.parts)
    .filter((round) => round.number > afterRound && round.part !== 'strap')
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
      return stays ? { ...round, steps: worked.steps, note: worked.note } : round;
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

/** A reading far from what is expected is a slip of the ruler or the wrong round, not a gauge. */
function requireReading(field: string, measuredMm: number, sdMm: number, expectedMm: number): void {
  requireInRange(`progress.${field}`, measuredMm, Math.round(expectedMm * 0.4), Math.round(expectedMm * 2.5), 'mm');
  requireInRange('progress.sdMm', sdMm, 0.01, measuredMm / 2, 'mm');
}

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

function readingInWords(measuredMm: number, expected: Estimate): string {
  const off = Math.round((measuredMm / expected.value - 1) * 100);
  if (off === 0) return `{${measuredMm} mm} is what was expected.`;
  return `{${measuredMm} mm} is ${Math.abs(off)} % ${off > 0 ? 'more' : 'less'} than expected.`;
}

function refusalsAsResult(work: () => Replanned): ReplanResult {
  try {
    return { outcome: 'planned', ...work() };
  } catch (error) {
    if (error instanceof RefusedInput) return { outcome: 'refused', reason: error.refusal };
    throw error;
  }
}
