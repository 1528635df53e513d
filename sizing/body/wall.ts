import { workedInJoinedRounds } from '../base/base-candidates.ts';
import type { Choices } from '../choices.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import { type Round, startAfter } from '../plan.ts';
import { type Meridian, meridianAt, widestRadiusBelowMm } from './meridian.ts';
import { shapedRound } from './shaping.ts';

export interface WallStart {
  readonly meridian: Meridian;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly stitches: number;
  /** Arc length along the container where the wall starts and where it must end. */
  readonly fromSMm: number;
  readonly toSMm: number;
  readonly firstNumber: number;
  /** How the round below is closed, and where it has its increases. */
  readonly closing: Round['closing'];
  readonly shapedAt: readonly number[];
  /** Stitches of wall rounds already worked. */
  readonly kept: readonly number[];
  readonly heightFactor: number;
}

export interface Wall {
  readonly rounds: readonly Round[];
  readonly stitches: number;
  readonly endSMm: number;
  /** What each round is around and what it has to pass, in mm of the container. */
  readonly rings: readonly WallRing[];
}

export interface WallRing {
  readonly stitches: number;
  readonly aroundMm: number;
  readonly passMm: number;
  readonly heightMm: number;
}

/** Solid fabric gives about this much along the round before it binds: common practice, no source. */
export const FABRIC_GIVE = 0.12;

/**
 * Stretch that is planned for where a ring must pass a wider place. The rest up to what fabric gives is margin: one and
 * a half standard deviations of an own gauge, whose tension alone drifts by 2.5 %.
 */
export const PLANNED_GIVE = 0.08;

/** A change of the wall by less than this many stitches is noise of the profile, not shape. */
const SHAPING_THRESHOLD = 0.75;

/** Rounds without shaping above a net carrier's base, as many as were chosen and there is room for. */
export function plainWall(start: WallStart): Wall {
  const heightMm = roundHeightMm(start.gauge, start.gauge.stitch) * start.heightFactor;
  const room = Math.floor((start.toSMm - start.fromSMm) / heightMm + 0.25);
  const count = Math.max(start.kept.length, Math.min(start.choices.plainWallRounds, Math.max(0, room)));
  return wallOf(
    start,
    Array.from({ length: count }, () => start.stitches),
    heightMm,
  );
}

/**
 * Closed wall that follows the profile: rounds by arc length, stitches by the circumference there with the ease,
 * never so few that the ring cannot pass the widest place below it.
 */
export function shapedWall(start: WallStart): Wall {
  const { meridian, gauge, choices } = start;
  const heightMm = roundHeightMm(gauge, gauge.stitch) * start.heightFactor;
  const count = Math.max(1, start.kept.length, Math.round((start.toSMm - start.fromSMm) / heightMm));
  const counts: number[] = [];
  let stitches = start.stitches;
  for (let index = 0; index < count; index++) {
    const at = meridianAt(meridian, start.fromSMm + (index + 1) * heightMm);
    const ideal = (2 * Math.PI * at.rMm * (1 + choices.easeRatio)) / gauge.stitchWidthMm.value;
    const passing =
      (2 * Math.PI * widestRadiusBelowMm(meridian, at.zMm)) / (1 + PLANNED_GIVE) / gauge.stitchWidthMm.value;
    const wanted = Math.max(Math.round(ideal), Math.ceil(passing), 4);
    const turns = Math.abs(Math.max(ideal, passing) - stitches) >= SHAPING_THRESHOLD;
    stitches = start.kept[index] ?? (turns ? reachable(stitches, wanted) : stitches);
    counts.push(stitches);
  }
  return wallOf(start, counts, heightMm);
}

/** One round can double its stitches and take two thirds of them, no more. */
function reachable(from: number, wanted: number): number {
  return Math.min(2 * from, Math.max(Math.ceil((2 * from) / 3), wanted));
}

function wallOf(start: WallStart, counts: readonly number[], heightMm: number): Wall {
  const { gauge, meridian } = start;
  const joined = workedInJoinedRounds(gauge.stitch);
  const closing = joined ? 'joined' : 'spiral';
  let shapedAt = [start.shapedAt];
  const rings: WallRing[] = [];
  const rounds = counts.map((to, index): Round => {
    const from = index === 0 ? start.stitches : counts[index - 1];
    const at = meridianAt(meridian, start.fromSMm + (index + 1) * heightMm);
    // One a round, always half a turn from the last, would stand in two ridges: it keeps off the last two.
    const areLone = Math.abs(to - from) === 1 && shapedAt.slice(-2).every(({ length }) => length === 1);
    const avoid = shapedAt.slice(areLone ? -2 : -1).flat();
    const shaped = shapedRound({
      from,
      to,
      stitch: gauge.stitch,
      joined,
      avoid,
      mayEnd: index === counts.length - 1,
    });
    if (to !== from) shapedAt = [...shapedAt, shaped.at];
    rings.push({
      stitches: to,
      aroundMm: 2 * Math.PI * at.rMm,
      passMm: 2 * Math.PI * widestRadiusBelowMm(meridian, at.zMm),
      heightMm: at.zMm,
    });
    return {
      number: start.firstNumber + index,
      part: 'wall',
      starts: startAfter(index === 0 ? start.closing : closing),
      closing,
      stitch: gauge.stitch,
      steps: shaped.steps,
      stitches: to,
      spaces: 0,
      widthMm: null,
      heightMm: heightEstimate(at.zMm, gauge),
      flatness: null,
      notes: index === 0 ? [{ code: 'mark-round' }] : [],
    };
  });
  return {
    rounds,
    stitches: counts.length > 0 ? counts[counts.length - 1] : start.stitches,
    endSMm: start.fromSMm + counts.length * heightMm,
    rings,
  };
}

/** Height above the table is uncertain by the round height's share of it. */
export function heightEstimate(zMm: number, gauge: Gauge): { value: number; sd: number } {
  return { value: zMm, sd: Math.max(1, (zMm * gauge.roundHeightMm.sd) / gauge.roundHeightMm.value) };
}
