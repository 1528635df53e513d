import { cellsFor } from '../body/mesh-cells.ts';
import type { Choices } from '../choices.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { BaseAim, BaseScoreTerms } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';
import { FULLEST_FLAT, flatIncreases, spread, widthAcrossMm } from './flat-circle.ts';

/** What the base must become. */
export interface BaseTarget {
  /** Circumference of the rim, ease included. */
  readonly circumferenceMm: number;
  /** From the centre, along the fabric, to the middle of the rounded edge. */
  readonly reachMm: number;
  /** ln of that circumference over the one a flat disc of that reach has. */
  readonly flatnessLog: number;
}

/** Rounds already on the hook: stitches after each, and which stitch each was worked in. */
export interface WorkedRound {
  readonly stitches: number;
  readonly stitch: FabricStitch;
}

/** What of the base is on the hook, and whether more rounds may follow. */
export interface WorkedBase {
  readonly base: readonly WorkedRound[];
  readonly baseFinished: boolean;
  /** What the rounds still to come aim at; all aims while nothing is measured. */
  readonly aims: readonly BaseAim[];
}

/** A base as counts: stitches after each round, worked rounds included. */
export interface BaseShape {
  readonly rounds: readonly WorkedRound[];
  readonly increasesPerRound: number;
  readonly stitchesAround: number;
  readonly reachMm: number;
  readonly widthMm: number;
  readonly cells: number;
  readonly aims: readonly BaseAim[];
  readonly score: number;
  readonly terms: BaseScoreTerms;
}

/**
 * The objective, in squared "just noticeable" steps plus fixed prices; the lowest sum is best. T stitches around,
 * H from centre to rim, W across:
 * - circumference: (ln(T w / target) / 0.03)^2, a stitch of an everyday base;
 * - reach: (ln(H / target) / 0.08)^2, since the rounded edge takes up half a round either way;
 * - width: (ln(W / target) / 0.02)^2, what the maker sees and measures;
 * - flatness: (ln(T w / 2 pi H) / step)^2; up to 7 % either way still looks flat;
 * - mesh: 0.5 for an odd number of cells, a price and 0.1 a stitch when skips must differ;
 * - counting: 0.15 when an increase round is a partial one;
 * - lastStitch: a price for each round at the end that changes stitch.
 * Three aims differ in these: `easiest` (which the plan recommends) would rather be 2-3 % off in size than change the
 * stitch or skip unevenly, well within what a net or a sleeve takes up; `fit` and `flattest` pay little for that.
 * Prices depend on T or on the last stitch alone, and of the squares flatness outweighs width where T and H meet
 * (1 / step^2 > 1 / (2 x 0.02)^2), so the sum is submodular in ln T and ln H: a wider container never gets fewer
 * stitches and a finer gauge never fewer rounds (tests/sizing/monotone.test.ts).
 */
const CIRCUMFERENCE_STEP = 0.03;
const REACH_STEP = 0.08;
const WIDTH_STEP = 0.02;
const ODD_CELLS_PRICE = 0.5;
const UNEVEN_SKIP_PRICE_EACH = 0.1;
const PARTIAL_ROUND_PRICE = 0.15;

interface Weights {
  readonly flatnessStep: number;
  readonly unevenSkips: number;
  readonly otherLastStitch: number;
}

const WEIGHTS: Readonly<Record<BaseAim, Weights>> = {
  easiest: { flatnessStep: 0.038, unevenSkips: 3, otherLastStitch: 1.5 },
  fit: { flatnessStep: 0.038, unevenSkips: 1, otherLastStitch: 0.3 },
  flattest: { flatnessStep: 0.012, unevenSkips: 1, otherLastStitch: 0.3 },
};

/** The first is the one that is recommended. */
export const BASE_AIMS = ['easiest', 'fit', 'flattest'] as const satisfies readonly BaseAim[];

/**
 * Stitches a base may end with, instead of its own, so that its width lands between two whole rounds. They are chosen
 * so that, sorted by reach, more reach never means fewer rounds.
 */
const ENDINGS: Readonly<Record<FabricStitch, readonly (readonly FabricStitch[])[]>> = {
  sc: [[], ['hdc'], ['hdc', 'hdc']],
  hdc: [[], ['sc'], ['sc', 'sc'], ['dc']],
  dc: [[], ['hdc'], ['sc'], ['hdc', 'sc'], ['sc', 'sc']],
  tr: [[], ['dc'], ['hdc'], ['sc'], ['dc', 'hdc']],
};

const FEWEST_STITCHES = 6;

/**
 * The best base for each aim, those that come out alike named together: a stitch more or less in as many rounds, too
 * little to be seen, is no other way to work. `worked` rounds are kept as they are.
 */
export function bestBases(
  target: BaseTarget,
  gauge: Gauge,
  choices: Choices,
  { base: worked, baseFinished, aims }: WorkedBase,
): BaseShape[] {
  const ends = finishes(target, gauge, worked).filter((finish) => !baseFinished || finish.stitches.length === 0);
  const counted = counts(target, gauge, choices, worked);
  const chosen: BaseShape[] = [];
  for (const aim of aims) {
    const priced = counted.map((count) => pricedCount(count, target, gauge, choices, WEIGHTS[aim]));
    const best = bestTrial(ends, priced, target, gauge, worked, WEIGHTS[aim]);
    if (best === null) continue;
    const shape = shapeOf(best, target, gauge, worked, aim);
    const same = chosen.findIndex((each) => areAlike(each, shape));
    if (same < 0) chosen.push(shape);
    else chosen[same] = { ...chosen[same], aims: [...chosen[same].aims, aim] };
  }
  return chosen;
}

/** Widths closer than half of what a maker sees (WIDTH_STEP) are one width to her. */
const SAME_WIDTH_LOG = 0.01;

function areAlike(a: BaseShape, b: BaseShape): boolean {
  const [lastA, lastB] = [a.rounds[a.rounds.length - 1], b.rounds[b.rounds.length - 1]];
  if (a.rounds.length !== b.rounds.length || a.rounds[0].stitches !== b.rounds[0].stitches) return false;
  if (lastA.stitch !== lastB.stitch || Math.abs(lastA.stitches - lastB.stitches) > 1) return false;
  return Math.abs(Math.log(a.widthMm / b.widthMm)) <= SAME_WIDTH_LOG;
}

/** From the centre to the rim along the fabric. */
export function reachOfRoundsMm(rounds: readonly WorkedRound[], gauge: Gauge): number {
  return rounds.reduce((sum, round) => sum + roundHeightMm(gauge, round.stitch), 0);
}

/** How a base goes on: the stitch of each round still to work. */
interface Finish {
  readonly stitches: readonly FabricStitch[];
  readonly ending: number;
  readonly reachMm: number;
}

/** Numbers of rounds around the wanted reach, each with every ending there is room for. */
function finishes(target: BaseTarget, gauge: Gauge, worked: readonly WorkedRound[]): Finish[] {
  const workedMm = reachOfRoundsMm(worked, gauge);
  const wanted = (target.reachMm - workedMm) / gauge.roundHeightMm.value;
  const result: Finish[] = worked.length > 0 ? [{ stitches: [], ending: 0, reachMm: workedMm }] : [];
  for (let more = Math.max(1, Math.floor(wanted) - 1); more <= Math.max(1, Math.ceil(wanted) + 2); more++) {
    for (const ending of ENDINGS[gauge.stitch]) {
      if (ending.length > more) continue;
      const plain: FabricStitch[] = Array.from({ length: more - ending.length }, () => gauge.stitch);
      const stitches = [...plain, ...ending];
      const reachMm = stitches.reduce((sum, stitch) => sum + roundHeightMm(gauge, stitch), workedMm);
      result.push({ stitches, ending: ending.length, reachMm });
    }
  }
  return result;
}

/** Counts around the wanted one that the worked rounds can still become; the count on the hook first. */
function counts(target: BaseTarget, gauge: Gauge, choices: Choices, worked: readonly WorkedRound[]): number[] {
  const wanted = target.circumferenceMm / gauge.stitchWidthMm.value;
  // Prices repeat with the mesh, so that a few repeats hold every count worth its price.
  const around = Math.min(0.15 * wanted, 12 + 2 * (choices.mesh.skip + 1));
  const fewest = Math.max(FEWEST_STITCHES, stitchesOnHook(worked), Math.floor(wanted - around));
  const most = Math.max(fewest, Math.ceil(wanted + around));
  const counted = Array.from({ length: most - fewest + 1 }, (_, index) => fewest + index);
  return worked.length === 0 || stitchesOnHook(worked) === fewest ? counted : [stitchesOnHook(worked), ...counted];
}

/** What a count costs whatever the rounds are. */
interface PricedCount {
  readonly stitches: number;
  readonly circumferenceLog: number;
  readonly cells: number;
  readonly mesh: number;
  readonly counting: number;
}

function pricedCount(
  stitches: number,
  target: BaseTarget,
  gauge: Gauge,
  choices: Choices,
  weights: Weights,
): PricedCount {
  const { cells, price } = meshPrice(stitches, choices, weights);
  return {
    stitches,
    circumferenceLog: Math.log((stitches * gauge.stitchWidthMm.value) / target.circumferenceMm),
    cells,
    mesh: price,
    counting: stitches % wholeFlatIncreases(gauge) === 0 ? 0 : PARTIAL_ROUND_PRICE,
  };
}

interface Trial {
  readonly finish: Finish;
  readonly count: PricedCount;
  readonly increments: Increments;
  readonly score: number;
}

/** The combination with the lowest score that can be worked. */
function bestTrial(
  ends: readonly Finish[],
  priced: readonly PricedCount[],
  target: BaseTarget,
  gauge: Gauge,
  worked: readonly WorkedRound[],
  weights: Weights,
): Trial | null {
  const onHook = stitchesOnHook(worked);
  let best: Trial | null = null;
  for (const finish of ends) {
    const reachLog = Math.log(finish.reachMm / target.reachMm);
    for (const count of priced) {
      if (finish.stitches.length === 0 && count.stitches !== onHook) continue;
      const score = scoreOf(finish, count, reachLog, target, weights);
      if (best !== null && score >= best.score) continue;
      const increments = incrementsFor(gauge, worked, finish, count.stitches);
      if (increments !== null) best = { finish, count, increments, score };
    }
  }
  return best;
}

function scoreOf(finish: Finish, count: PricedCount, reachLog: number, target: BaseTarget, weights: Weights): number {
  const { circumferenceLog } = count;
  const circumference = circumferenceLog / CIRCUMFERENCE_STEP;
  const reach = reachLog / REACH_STEP;
  // Width and flatness are sum and difference of the same two logarithms.
  const width = (circumferenceLog + reachLog) / 2 / WIDTH_STEP;
  const flatness = (circumferenceLog - reachLog + target.flatnessLog) / weights.flatnessStep;
  const squares = circumference * circumference + reach * reach + width * width + flatness * flatness;
  return squares + count.mesh + count.counting + weights.otherLastStitch * finish.ending;
}

function scoreTerms(finish: Finish, count: PricedCount, target: BaseTarget, weights: Weights): BaseScoreTerms {
  const reachLog = Math.log(finish.reachMm / target.reachMm);
  return {
    circumference: (count.circumferenceLog / CIRCUMFERENCE_STEP) ** 2,
    reach: (reachLog / REACH_STEP) ** 2,
    width: ((count.circumferenceLog + reachLog) / 2 / WIDTH_STEP) ** 2,
    flatness: ((count.circumferenceLog - reachLog + target.flatnessLog) / weights.flatnessStep) ** 2,
    mesh: count.mesh,
    counting: count.counting,
    lastStitch: weights.otherLastStitch * finish.ending,
  };
}

function shapeOf(
  { finish, count, increments, score }: Trial,
  target: BaseTarget,
  gauge: Gauge,
  worked: readonly WorkedRound[],
  aim: BaseAim,
): BaseShape {
  return {
    rounds: [...worked, ...furtherRounds(worked, finish, increments)],
    increasesPerRound: increments.perRound,
    stitchesAround: count.stitches,
    reachMm: finish.reachMm,
    widthMm: widthAcrossMm(count.stitches, gauge.stitchWidthMm.value, finish.reachMm),
    cells: count.cells,
    aims: [aim],
    score,
    terms: scoreTerms(finish, count, target, WEIGHTS[aim]),
  };
}

/** The whole number of increases nearest to flat: what a maker would start with and add each round. */
export function wholeFlatIncreases(gauge: Gauge): number {
  return Math.max(3, Math.round(flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value)));
}

/** Increases of each round still to work; `perRound` is what the full rounds add. */
interface Increments {
  readonly perRound: number;
  readonly each: readonly number[];
}

/**
 * Full rounds add the number nearest to flat; the rounds of the ending, or else the last round, share what is missing
 * by their heights. In a large base no number may do; then the next larger one, with rounds without increases in
 * between. Null when a round would have to more than double.
 */
function incrementsFor(
  gauge: Gauge,
  worked: readonly WorkedRound[],
  { stitches, ending }: Finish,
  stitchesAround: number,
): Increments | null {
  const onHook = stitchesOnHook(worked);
  const missing = stitchesAround - onHook;
  const tail = stitches.slice(stitches.length - Math.max(1, ending));
  const shares = tail.map((stitch) => roundHeightMm(gauge, stitch) / gauge.roundHeightMm.value);
  const full = stitches.length - tail.length;
  const perRound = fullRoundIncreases(gauge, full, missing, shares);
  const each =
    perRound === null
      ? spacedIncreases(missing, stitches.length)
      : [...Array.from({ length: full }, () => perRound), ...sharedOut(missing - full * perRound, shares)];
  let count = onHook;
  for (const [index, increases] of each.entries()) {
    if (increases > count && (index > 0 || worked.length > 0)) return null;
    count += increases;
  }
  return { perRound: perRound ?? Math.max(...each, 0), each };
}

/** The last rounds may take this much more than their share: the rim is then no fuller than the flatness term allows. */
const TAIL_TOLERANCE = 1.15;

/** The number nearest to flat with which the tail adds neither less than nothing nor more than its heights allow. */
function fullRoundIncreases(gauge: Gauge, full: number, missing: number, tailShares: readonly number[]): number | null {
  const flat = flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value);
  const tailHeight = tailShares.reduce((sum, share) => sum + share, 0);
  if (full === 0) return Math.round(missing / Math.max(1, tailHeight));
  let best: number | null = null;
  const fewest = Math.max(1, Math.floor((missing - 1) / (full + tailHeight)));
  for (let k = fewest; k * full <= missing; k++) {
    const rest = missing - k * full;
    if (rest > Math.ceil(k * Math.max(1, tailHeight) * TAIL_TOLERANCE)) continue;
    if (best === null || unflatness(k / flat) < unflatness(best / flat)) best = k;
  }
  return best;
}

/** A disc that cups a little does no harm to a base, one that ruffles does: too many counts double beyond flat. */
function unflatness(ratio: number): number {
  return ratio > FULLEST_FLAT ? 2 * Math.log(ratio) : Math.abs(Math.log(ratio));
}

/** Whole numbers in proportion to the shares that sum up to the total. */
function sharedOut(total: number, shares: readonly number[]): number[] {
  const sum = shares.reduce((all, share) => all + share, 0);
  let soFar = 0;
  return shares.map((share) => {
    const before = Math.round((total * soFar) / sum);
    soFar += share;
    return Math.round((total * soFar) / sum) - before;
  });
}

/** Reversed, so that a single round without increases is the last one, where the disc turns up anyway. */
function spacedIncreases(missing: number, rounds: number): number[] {
  const perRound = Math.ceil(missing / Math.max(1, rounds));
  const increaseRounds = perRound === 0 ? 0 : Math.ceil(missing / perRound);
  let left = missing;
  return spread(increaseRounds, rounds)
    .reverse()
    .map((increases) => {
      const now = Math.min(left, increases * perRound);
      left -= now;
      return now;
    });
}

function furtherRounds(worked: readonly WorkedRound[], finish: Finish, { each }: Increments): WorkedRound[] {
  let count = stitchesOnHook(worked);
  return finish.stitches.map((stitch, index) => {
    count += each[index];
    return { stitches: count, stitch };
  });
}

function stitchesOnHook(worked: readonly WorkedRound[]): number {
  return worked.length > 0 ? worked[worked.length - 1].stitches : 0;
}

function meshPrice(stitches: number, choices: Choices, weights: Weights): { cells: number; price: number } {
  if (choices.carrier !== 'net') return { cells: 0, price: 0 };
  const { cells, extraSkips } = cellsFor(stitches, choices.mesh.skip);
  const uneven = extraSkips === 0 ? 0 : weights.unevenSkips + UNEVEN_SKIP_PRICE_EACH * Math.abs(extraSkips);
  return { cells, price: uneven + (cells % 2 === 0 ? 0 : ODD_CELLS_PRICE) };
}

/** Whether a stitch is worked in joined rounds (custom for the tall ones) or in a spiral. */
export function workedInJoinedRounds(stitch: FabricStitch): boolean {
  return STITCH_FACTS[stitch].chainCounts;
}
