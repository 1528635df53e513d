import type { Choices } from './choices.ts';
import { flatIncreases, flatnessRatio, widthAcrossMm } from './flat-circle.ts';
import { type Gauge, roundHeightMm } from './gauge.ts';
import { cellsFor } from './mesh-cells.ts';
import type { BaseScoreTerms } from './plan.ts';
import { FABRIC_STITCHES, type FabricStitch, STITCH_FACTS } from './stitches.ts';

/** What the base must become. */
export interface BaseTarget {
  /** Circumference of the rim, ease included. */
  readonly circumferenceMm: number;
  /** From the centre, along the fabric, to the middle of the rounded edge. */
  readonly reachMm: number;
}

/** Rounds already on the hook: stitches after each, and which stitch each was worked in. */
export interface WorkedRound {
  readonly stitches: number;
  readonly stitch: FabricStitch;
}

/** A base as counts: stitches after each round, worked rounds included. */
export interface BaseShape {
  readonly rounds: readonly WorkedRound[];
  readonly increasesPerRound: number;
  readonly stitchesAround: number;
  readonly reachMm: number;
  readonly widthMm: number;
  readonly cells: number;
  readonly score: number;
  readonly terms: BaseScoreTerms;
}

/**
 * The objective, in squared "just noticeable" steps plus fixed prices; the lowest sum is best. T stitches around,
 * H from centre to rim, W across:
 * - circumference: (ln(T w / target) / 0.03)^2, a stitch of an everyday base;
 * - reach: (ln(H / target) / 0.08)^2, since the rounded edge takes up half a round either way;
 * - width: (ln(W / target) / 0.028)^2, what the maker sees and measures;
 * - flatness: ((ln(T w / 2 pi H) - ln 0.97) / 0.05)^2; 7 % is still flat, and slightly cupped beats ruffled;
 * - mesh: 0.5 for an odd number of cells, 1 + 0.1 a stitch when skips must differ;
 * - counting: 0.15 when an increase round is a partial one;
 * - lastStitch: 0.3 when the last round changes stitch.
 * Prices depend on T or on the last stitch alone, and of the squares flatness outweighs width where T and H meet
 * (1 / 0.05^2 > 1 / (2 x 0.028)^2), so the sum is submodular in ln T and ln H: a wider container never gets fewer
 * stitches and a finer gauge never fewer rounds (tests/sizing/monotone.test.ts).
 */
const CIRCUMFERENCE_STEP = 0.03;
const REACH_STEP = 0.08;
const WIDTH_STEP = 0.028;
const FLATNESS_STEP = 0.05;
const PREFERRED_FLATNESS = 0.97;
const ODD_CELLS_PRICE = 0.5;
const UNEVEN_SKIPS_PRICE = 1;
const UNEVEN_SKIP_PRICE_EACH = 0.1;
const PARTIAL_ROUND_PRICE = 0.15;
const OTHER_LAST_STITCH_PRICE = 0.3;

/** A last round may be lower than the others, or this much higher. */
const HIGHEST_LAST_ROUND = 1.45;

const FEWEST_STITCHES = 6;

/** Every sensible base for the target, best first. `worked` rounds are kept as they are. */
export function baseShapes(
  target: BaseTarget,
  gauge: Gauge,
  choices: Choices,
  worked: readonly WorkedRound[] = [],
): BaseShape[] {
  const shapes: BaseShape[] = [];
  for (const finish of finishes(target, gauge, worked)) {
    for (const stitchesAround of counts(target, gauge, worked, finish.more)) {
      const shape = shapeOf(target, gauge, choices, worked, finish, stitchesAround);
      if (shape) shapes.push(shape);
    }
  }
  return shapes.sort((a, b) => a.score - b.score);
}

/** The best bases that differ in what a maker would notice: rounds, stitches around or the last round's stitch. */
export function distinctBases(shapes: readonly BaseShape[], howMany: number): BaseShape[] {
  const chosen: BaseShape[] = [];
  for (const shape of shapes) {
    if (chosen.length === howMany) break;
    if (chosen.every((other) => other.stitchesAround !== shape.stitchesAround)) chosen.push(shape);
  }
  return chosen;
}

/** From the centre to the rim along the fabric. */
export function reachOfRoundsMm(rounds: readonly WorkedRound[], gauge: Gauge): number {
  return rounds.reduce((sum, round) => sum + roundHeightMm(gauge, round.stitch), 0);
}

/** How a base ends: rounds still to work and the stitch of the last of them. */
interface Finish {
  readonly more: number;
  readonly lastStitch: FabricStitch;
  readonly reachMm: number;
}

/**
 * Numbers of rounds around the wanted reach, the last round in the base stitch or in a lower or slightly higher one. In
 * this order reach and number of rounds rise together.
 */
function finishes(target: BaseTarget, gauge: Gauge, worked: readonly WorkedRound[]): Finish[] {
  const baseHeightMm = roundHeightMm(gauge, gauge.stitch);
  const workedMm = reachOfRoundsMm(worked, gauge);
  const wanted = (target.reachMm - workedMm) / baseHeightMm;
  const result: Finish[] =
    worked.length > 0 ? [{ more: 0, lastStitch: worked[worked.length - 1].stitch, reachMm: workedMm }] : [];
  for (let more = Math.max(1, Math.floor(wanted) - 1); more <= Math.max(1, Math.ceil(wanted) + 1); more++) {
    for (const lastStitch of FABRIC_STITCHES) {
      const lastHeightMm = roundHeightMm(gauge, lastStitch);
      if (lastHeightMm > HIGHEST_LAST_ROUND * baseHeightMm) continue;
      result.push({ more, lastStitch, reachMm: workedMm + (more - 1) * baseHeightMm + lastHeightMm });
    }
  }
  return result;
}

function counts(target: BaseTarget, gauge: Gauge, worked: readonly WorkedRound[], more: number): number[] {
  const wanted = target.circumferenceMm / gauge.stitchWidthMm.value;
  const onHook = stitchesOnHook(worked);
  if (more === 0) return [onHook];
  const fewest = Math.max(FEWEST_STITCHES, onHook, Math.floor(wanted * 0.85));
  const most = Math.max(fewest, Math.ceil(wanted * 1.15));
  return Array.from({ length: most - fewest + 1 }, (_, index) => fewest + index);
}

function shapeOf(
  target: BaseTarget,
  gauge: Gauge,
  choices: Choices,
  worked: readonly WorkedRound[],
  finish: Finish,
  stitchesAround: number,
): BaseShape | null {
  const increases = increasesPerRound(gauge, worked, finish, stitchesAround);
  if (increases === null) return null;
  const { cells, price } = meshPrice(stitchesAround, choices);
  const widthMm = gauge.stitchWidthMm.value;
  const acrossMm = widthAcrossMm(stitchesAround, widthMm, finish.reachMm);
  const flatness = flatnessRatio(stitchesAround, widthMm, finish.reachMm);
  const terms: BaseScoreTerms = {
    circumference: (Math.log((stitchesAround * widthMm) / target.circumferenceMm) / CIRCUMFERENCE_STEP) ** 2,
    reach: (Math.log(finish.reachMm / target.reachMm) / REACH_STEP) ** 2,
    width: (Math.log(acrossMm / widthAcrossMm(target.circumferenceMm, 1, target.reachMm)) / WIDTH_STEP) ** 2,
    flatness: (Math.log(flatness / PREFERRED_FLATNESS) / FLATNESS_STEP) ** 2,
    mesh: price,
    counting: stitchesAround % wholeFlatIncreases(gauge) === 0 ? 0 : PARTIAL_ROUND_PRICE,
    lastStitch: finish.lastStitch === gauge.stitch ? 0 : OTHER_LAST_STITCH_PRICE,
  };
  return {
    rounds: [...worked, ...furtherRounds(gauge, worked, finish, stitchesAround, increases)],
    increasesPerRound: increases,
    stitchesAround,
    reachMm: finish.reachMm,
    widthMm: acrossMm,
    cells,
    score: Object.values(terms).reduce((sum, term) => sum + term, 0),
    terms,
  };
}

/** The whole number of increases nearest to flat: what a maker would start with and add each round. */
export function wholeFlatIncreases(gauge: Gauge): number {
  return Math.max(3, Math.round(flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value)));
}

/**
 * Increases per round: the number nearest to flat with which the last round needs no more than its height allows and
 * at most one round has none; null when there is no such number.
 */
function increasesPerRound(
  gauge: Gauge,
  worked: readonly WorkedRound[],
  { more, lastStitch }: Finish,
  stitchesAround: number,
): number | null {
  const onHook = stitchesOnHook(worked);
  const missing = stitchesAround - onHook;
  if (more === 0 || missing === 0) return missing === 0 ? 0 : null;
  if (more === 1) return worked.length > 0 && missing > onHook ? null : missing;
  const flat = flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value);
  const lastShare = Math.max(1, roundHeightMm(gauge, lastStitch) / roundHeightMm(gauge, gauge.stitch));
  const most = worked.length > 0 ? onHook : missing;
  let best: number | null = null;
  for (let k = Math.floor(missing / (more - 1 + lastShare)); k <= most && k * (more - 2) < missing; k++) {
    const last = missing - k * (more - 1);
    if (k < 1 || last > Math.ceil(k * lastShare) || last > onHook + k * (more - 1)) continue;
    if (best === null || Math.abs(Math.log(k / flat)) < Math.abs(Math.log(best / flat))) best = k;
  }
  return best;
}

function furtherRounds(
  gauge: Gauge,
  worked: readonly WorkedRound[],
  finish: Finish,
  stitchesAround: number,
  increases: number,
): WorkedRound[] {
  const onHook = stitchesOnHook(worked);
  return Array.from({ length: finish.more }, (_, index) => {
    const isLast = index === finish.more - 1;
    return {
      stitches: isLast ? stitchesAround : Math.min(stitchesAround, onHook + increases * (index + 1)),
      stitch: isLast ? finish.lastStitch : gauge.stitch,
    };
  });
}

function stitchesOnHook(worked: readonly WorkedRound[]): number {
  return worked.length > 0 ? worked[worked.length - 1].stitches : 0;
}

function meshPrice(stitches: number, choices: Choices): { cells: number; price: number } {
  if (choices.carrier !== 'net') return { cells: 0, price: 0 };
  const { cells, extraSkips } = cellsFor(stitches, choices.mesh.skip);
  const uneven = extraSkips === 0 ? 0 : UNEVEN_SKIPS_PRICE + UNEVEN_SKIP_PRICE_EACH * Math.abs(extraSkips);
  return { cells, price: uneven + (cells % 2 === 0 ? 0 : ODD_CELLS_PRICE) };
}

/** Whether a stitch is worked in joined rounds (custom for the tall ones) or in a spiral. */
export function workedInJoinedRounds(stitch: FabricStitch): boolean {
  return STITCH_FACTS[stitch].chainCounts;
}
