import type { WorkedRound } from '../base/base-candidates.ts';
import { cellsFor } from '../body/mesh-cells.ts';
import type { Gauge } from '../gauge.ts';
import { roundHeightMm } from '../gauge.ts';
import { FABRIC_STITCHES, type FabricStitch, STITCH_FACTS } from '../stitches.ts';

/** How a maker grows a base: what she starts with, adds in each round, and ends with. */
export interface BaseHabit {
  readonly start: number;
  /** Stitches added by her rounds after the first, before any last one that adds fewer. */
  readonly added: readonly number[];
  /** What she adds in every further round. */
  readonly perRound: number;
  /** Rounds without increases at the rim. */
  readonly plainAtRim: number;
}

export function habitOf(baseCounts: readonly number[]): BaseHabit {
  const added = baseCounts.slice(1).map((count, index) => count - baseCounts[index]);
  let plainAtRim = 0;
  while (added[added.length - 1] === 0) {
    added.pop();
    plainAtRim++;
  }
  const perRound = added.length === 0 ? baseCounts[0] : middleOf(added);
  if (added.length > 1 && added[added.length - 1] < perRound) added.pop();
  return { start: baseCounts[0], added, perRound, plainAtRim };
}

function middleOf(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}

/** The stitch whose customary number of first stitches (published tutorials) is nearest to hers. */
export function stitchByStart(start: number): FabricStitch {
  const away = (stitch: FabricStitch) => {
    const [fewest, most] = STITCH_FACTS[stitch].customaryStart;
    return Math.max(fewest - start, start - most, 0);
  };
  return FABRIC_STITCHES.reduce((best, stitch) => (away(stitch) < away(best) ? stitch : best));
}

/** What the new base must become, in her own proportions. */
export interface OwnBaseTarget {
  readonly circumferenceMm: number;
  /** From the centre to the rim along the fabric. */
  readonly reachMm: number;
  /** Stitches a cell of her net stands on; null without a net. */
  readonly stitchesPerCell: number | null;
}

/** Squared steps as in base-candidates.ts: a stitch of an everyday base around, half a round from centre to rim. */
const CIRCUMFERENCE_STEP = 0.03;
const REACH_STEP = 0.08;
/**
 * A last round that adds another number than the others, and cells that differ. Both together cost less than a rim that
 * is 3.5 % off: (0.035 / 0.03)^2 = 1.36 (tests/sizing/regrade/regrade.test.ts).
 */
const OTHER_LAST_ROUND_PRICE = 0.6;
const UNEVEN_CELLS_PRICE = 0.6;

const MOST_ROUNDS = 90;

/** A base with the number of stitches its last increase round adds, when that differs from what she adds. */
export interface RegrownBase {
  readonly rounds: WorkedRound[];
  readonly lastAdds: number | null;
}

/** Her base for another container: her start and her increases, as many rounds as it takes. */
export function regrownBase(habit: BaseHabit, target: OwnBaseTarget, gauge: Gauge): RegrownBase {
  let best: { score: number; counts: number[]; lastAdds: number | null } | null = null;
  const full = [habit.start];
  while (full.length <= MOST_ROUNDS) {
    for (const { counts, lastAdds } of endings(full, habit)) {
      const score = scoreOf(counts, target, gauge) + (lastAdds === null ? 0 : OTHER_LAST_ROUND_PRICE);
      if (best === null || score < best.score) best = { score, counts, lastAdds };
    }
    const now = full[full.length - 1];
    if (now * gauge.stitchWidthMm.value > 1.2 * target.circumferenceMm) break;
    full.push(now + addsAfter(full.length, habit));
  }
  const { counts, lastAdds } = best as NonNullable<typeof best>;
  return { rounds: counts.map((stitches) => ({ stitches, stitch: gauge.stitch })), lastAdds };
}

function addsAfter(rounds: number, habit: BaseHabit): number {
  return habit.added[rounds - 1] ?? habit.perRound;
}

/** The full rounds as they are, with a further round that adds fewer, or with a last one that adds up to half more. */
function endings(full: readonly number[], habit: BaseHabit): { counts: number[]; lastAdds: number | null }[] {
  const now = full[full.length - 1];
  const adds = addsAfter(full.length, habit);
  const ended = (rounds: readonly number[], lastAdds: number | null) => {
    const plain = Array.from({ length: habit.plainAtRim }, () => rounds[rounds.length - 1]);
    return { counts: [...rounds, ...plain], lastAdds };
  };
  const fewer = countUp(1, Math.min(adds - 1, now)).map((last) => ended([...full, now + last], last));
  if (full.length === 1) return [ended(full, null), ...fewer];
  const before = full[full.length - 2];
  const most = Math.min(Math.floor(adds / 2), 2 * before - now);
  const more = countUp(1, most).map((extra) => ended([...full.slice(0, -1), now + extra], now + extra - before));
  return [ended(full, null), ...fewer, ...more];
}

function countUp(from: number, to: number): number[] {
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, index) => from + index);
}

function scoreOf(counts: readonly number[], target: OwnBaseTarget, gauge: Gauge): number {
  const stitches = counts[counts.length - 1];
  const circumference = Math.log((stitches * gauge.stitchWidthMm.value) / target.circumferenceMm) / CIRCUMFERENCE_STEP;
  const reachMm = counts.length * roundHeightMm(gauge, gauge.stitch);
  const reach = Math.log(reachMm / target.reachMm) / REACH_STEP;
  const uneven = target.stitchesPerCell !== null && cellsFor(stitches, target.stitchesPerCell - 1).extraSkips !== 0;
  return circumference ** 2 + reach ** 2 + (uneven ? UNEVEN_CELLS_PRICE : 0);
}
