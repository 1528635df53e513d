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
 * The objective, in squared "just noticeable" steps plus fixed prices; the lowest sum is best:
 * - circumference: (ln(T w / target) / 0.02)^2, two per cent being half a stitch in an everyday base;
 * - reach: (ln(H / target) / 0.06)^2, since the rounded edge takes up half a round either way;
 * - flatness: (ln(T w / 2 pi H) - ln 0.97)^2 / 0.07^2; 7 % is still flat, and slightly cupped beats ruffled;
 * - mesh: 0.5 for an odd number of cells, 0.6 + 0.1 a stitch when skips must differ;
 * - counting: 0.15 when the last round is a partial one;
 * - lastStitch: 0.3 when the last round changes stitch.
 * All prices depend on T or on the last stitch alone and the rest are squares of differences of logarithms, so a wider
 * container never gets fewer stitches and a finer gauge never fewer rounds (submodular; tests/sizing/monotone).
 */
const CIRCUMFERENCE_STEP = 0.02;
const REACH_STEP = 0.06;
const FLATNESS_STEP = 0.07;
const PREFERRED_FLATNESS = 0.97;
const ODD_CELLS_PRICE = 0.5;
const UNEVEN_SKIPS_PRICE = 0.6;
const UNEVEN_SKIP_PRICE_EACH = 0.1;
const PARTIAL_ROUND_PRICE = 0.15;
const OTHER_LAST_STITCH_PRICE = 0.3;

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
 * Numbers of rounds around the wanted reach, the last round in the base stitch or in one up to one and a half times
 * as high, or lower. In this order reach and number of rounds rise together.
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
      if (lastHeightMm > 1.5 * baseHeightMm) continue;
      result.push({ more, lastStitch, reachMm: workedMm + (more - 1) * baseHeightMm + lastHeightMm });
    }
  }
  return result;
}

function counts(target: BaseTarget, gauge: Gauge, worked: readonly WorkedRound[], more: number): number[] {
  const wanted = target.circumferenceMm / gauge.stitchWidthMm.value;
  const onHook = worked.length > 0 ? worked[worked.length - 1].stitches : 0;
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
  const increases = increasesPerRound(gauge, worked, finish.more, stitchesAround);
  if (increases === null) return null;
  const { cells, price } = meshPrice(stitchesAround, choices);
  const widthMm = gauge.stitchWidthMm.value;
  const flatness = flatnessRatio(stitchesAround, widthMm, finish.reachMm);
  const terms: BaseScoreTerms = {
    circumference: (Math.log((stitchesAround * widthMm) / target.circumferenceMm) / CIRCUMFERENCE_STEP) ** 2,
    reach: (Math.log(finish.reachMm / target.reachMm) / REACH_STEP) ** 2,
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
    widthMm: widthAcrossMm(stitchesAround, widthMm, finish.reachMm),
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
 * Increases per round: the number nearest to flat that reaches the wanted count in time and leaves at most one round
 * without increases; null when a round would have to more than double.
 */
function increasesPerRound(
  gauge: Gauge,
  worked: readonly WorkedRound[],
  more: number,
  stitchesAround: number,
): number | null {
  if (more === 0) return wholeFlatIncreases(gauge);
  const onHook = worked.length > 0 ? worked[worked.length - 1].stitches : 0;
  const missing = stitchesAround - onHook;
  const fewest = Math.ceil(missing / more);
  if (worked.length > 0 && fewest > onHook) return null;
  const flat = flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value);
  const inTime = more > 1 ? Math.max(fewest, Math.floor((missing - 1) / (more - 1))) : fewest;
  const mostUseful = worked.length > 0 ? Math.min(inTime, onHook) : inTime;
  let best = fewest;
  for (let k = fewest; k <= mostUseful; k++) {
    if (Math.abs(Math.log(k / flat)) < Math.abs(Math.log(best / flat))) best = k;
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
  const onHook = worked.length > 0 ? worked[worked.length - 1].stitches : 0;
  return Array.from({ length: finish.more }, (_, index) => ({
    stitches: Math.min(stitchesAround, onHook + increases * (index + 1)),
    stitch: index === finish.more - 1 ? finish.lastStitch : gauge.stitch,
  }));
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
