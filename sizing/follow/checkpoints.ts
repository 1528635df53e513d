import { type Base, targetWidthMm } from '../base/base.ts';
import { type BaseShape, type BaseTarget, bestBases, type WorkedRound } from '../base/base-candidates.ts';
import type { WorkedSoFar } from '../build-plan.ts';
import type { Choices } from '../choices.ts';
import { RULER_SD_MM } from '../forecast/fit.ts';
import type { Gauge } from '../gauge.ts';
import type { CheckAdvice } from '../notes.ts';
import { type Checkpoint, isOwnPiece, type MeshZone, type Part, type Round } from '../plan.ts';
import { gaugeAfterWidth } from './gauge-update.ts';

export interface CheckpointInputs {
  readonly base: Base;
  readonly target: BaseTarget;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly parts: readonly Part[];
  /** Factors by which stitches may be smaller or larger than planned and the carrier still fits. */
  readonly room: readonly [number, number];
  readonly worked: WorkedSoFar;
  readonly zones: readonly MeshZone[];
}

/** The narrowest tolerance worth printing: what a ruler reads on soft work, flat and stretched on a container. */
const NARROWEST_MM = 1.5;
const NARROWEST_HEIGHT_MM = 3;

/** A smaller disc after its first round is all ring and cannot be judged: common practice, no source. */
const SMALLEST_DISC_MM = 25;

/** The readings the decision table is worked out for, as shares of what is expected. */
const TABLE_READINGS = [0.92, 1.08] as const;

const MESH_CHECK_EVERY = 3;
const MOST_BASE_CHECKS = 6;
const MOST_HEIGHT_CHECKS = 8;

/** What to measure when, what to expect, and what to do otherwise. Only rounds that are still to be worked. */
export function checkpointsFor(inputs: CheckpointInputs): Checkpoint[] {
  const widths = roundsToMeasure(inputs.base.rounds).map((round) => widthCheckpoint(inputs, round));
  const all = inputs.parts.flatMap((part) => part.rounds);
  const body = all.filter(({ part }) => part === 'wall' || part === 'mesh');
  const every = Math.max(MESH_CHECK_EVERY, Math.ceil(body.length / MOST_HEIGHT_CHECKS));
  // The last round of a mesh comes down level; the round before is the last at which the height can still be changed.
  const last = body.length - (body.at(-1)?.part === 'mesh' ? 2 : 1);
  const heights = body.flatMap((_, index) =>
    index === last || (index < last && (index + 1) % every === 0) ? [heightCheckpoint(all, body, index, last)] : [],
  );
  return [...widths, ...heights].filter((checkpoint) => checkpoint.afterRound > inputs.worked.rounds);
}

/** All rounds of an everyday base but a tiny first; of a large one the second, the last and some evenly between. */
function roundsToMeasure(rounds: readonly Round[]): Round[] {
  const every = Math.ceil(rounds.length / MOST_BASE_CHECKS);
  const judged = rounds.filter(({ number, widthMm }) => number > 1 || (widthMm?.value ?? 0) >= SMALLEST_DISC_MM);
  return judged.filter(
    ({ number }) => every === 1 || number === 2 || number === rounds.length || (rounds.length - number) % every === 0,
  );
}

function widthCheckpoint({ base, target, gauge, choices, room }: CheckpointInputs, round: Round): Checkpoint {
  const expected = round.widthMm as NonNullable<Round['widthMm']>;
  const goOnMm = [
    Math.min(expected.value - NARROWEST_MM, expected.value * room[0]),
    Math.max(expected.value + NARROWEST_MM, expected.value * room[1]),
  ] as const;
  const disc = base.shape.rounds.slice(0, round.number);
  const smallMm = Math.min(goOnMm[0] - 1, expected.value * TABLE_READINGS[0]);
  const largeMm = Math.max(goOnMm[1] + 1, expected.value * TABLE_READINGS[1]);
  const [small, large] = [smallMm, largeMm].map((readingMm) => ({
    readingMm,
    shape: shapeAfter(disc, readingMm, { target, gauge, choices, base }),
  }));
  return {
    afterRound: round.number,
    measure: 'width across',
    expectedMm: expected,
    goOnMm,
    ifLess: instead(small, disc, choices),
    ifMore: instead(large, disc, choices),
  };
}

/** The base as it should go on after this reading; when the disc is already too large, from a round earlier. */
function shapeAfter(
  disc: readonly WorkedRound[],
  readingMm: number,
  { target, gauge, choices, base }: Pick<CheckpointInputs, 'target' | 'gauge' | 'choices' | 'base'>,
): BaseShape {
  const updated = gaugeAfterWidth(gauge, disc, readingMm, RULER_SD_MM);
  return bestContinuation({ target, gauge: updated, choices }, disc, base.shape.rounds).shape;
}

export interface Continuation {
  readonly shape: BaseShape;
  /** Base rounds kept; fewer than were worked means ripping back. */
  readonly kept: number;
}

/** How much better the base must get for ripping back a round to be worth it, in the objective's steps. */
const RIP_BACK_GAIN = 0.8;

/** A base this little off is not changed: a ruler reads no better on soft work. */
const NOT_WORTH_CHANGING = 0.015;

/** Ripping back further than this is starting anew. */
const MOST_RIPPED = 4;

/**
 * Best way on from the worked rounds, ripping back as few as pays. As long as what was planned is still the easiest, it
 * stays; once the base must change anyway, it is made to fit.
 */
export function bestContinuation(
  { target, gauge, choices }: Pick<CheckpointInputs, 'target' | 'gauge' | 'choices'>,
  worked: readonly WorkedRound[],
  planned: readonly WorkedRound[],
): Continuation {
  const start = { base: worked, baseFinished: false };
  const [easiest] = bestBases(target, gauge, choices, { ...start, aims: ['easiest'] });
  const off = easiest ? Math.log(easiest.widthMm / targetWidthMm(target)) : Number.POSITIVE_INFINITY;
  if (Math.abs(off) < NOT_WORTH_CHANGING && sameRounds(easiest.rounds, planned)) {
    return { shape: easiest, kept: worked.length };
  }
  let best: Continuation | null = null;
  const fewer = Array.from({ length: Math.min(worked.length, MOST_RIPPED) }, (_, index) => worked.length - 1 - index);
  for (const kept of new Set([worked.length, ...fewer, 0])) {
    const [shape] = bestBases(target, gauge, choices, { ...start, base: worked.slice(0, kept), aims: ['fit'] });
    if (!shape) continue;
    if (best === null || shape.score < best.shape.score - RIP_BACK_GAIN) best = { shape, kept };
    if (best.shape.score < RIP_BACK_GAIN) break;
  }
  return best as Continuation;
}

function sameRounds(a: readonly WorkedRound[], b: readonly WorkedRound[]): boolean {
  return (
    a.length === b.length && a.every(({ stitches, stitch }, i) => stitches === b[i].stitches && stitch === b[i].stitch)
  );
}

interface Reading {
  readonly readingMm: number;
  readonly shape: BaseShape;
}

function instead({ readingMm, shape }: Reading, disc: readonly WorkedRound[], { carrier }: Choices): CheckAdvice {
  const kept = disc.every(
    (round, index) => shape.rounds[index]?.stitches === round.stitches && shape.rounds[index]?.stitch === round.stitch,
  );
  if (kept && shape.rounds.length === disc.length) return { code: 'finished-here', readingMm, carrier };
  return {
    code: 'base-becomes',
    ripBack: !kept,
    readingMm,
    rounds: shape.rounds.length,
    stitches: shape.stitchesAround,
    lastStitch: shape.rounds[shape.rounds.length - 1].stitch,
  };
}

function heightCheckpoint(all: readonly Round[], body: readonly Round[], index: number, last: number): Checkpoint {
  const round = body[index];
  const before = index === 0 ? 0 : (body[index - 1].heightMm?.value ?? 0);
  const expected = round.heightMm as NonNullable<Round['heightMm']>;
  // Half a round, shared out over the rounds worked so far, is what the number of rounds still to come absorbs; but
  // the edge of a spiral alone steps by half a round, so nothing finer can be read.
  const halfRoundMm = (expected.value - before) / 2;
  const toleranceMm = Math.max(NARROWEST_HEIGHT_MM, halfRoundMm);
  const isLast = index === last && last > 0;
  const next = all.find(({ number, part }) => number === round.number + 1 && !isOwnPiece(part))?.number ?? null;
  return {
    afterRound: round.number,
    measure: 'height above the table',
    expectedMm: expected,
    goOnMm: [expected.value - toleranceMm, expected.value + toleranceMm],
    ifLess: isLast
      ? { code: 'one-round-more', again: keepsCount(round, all) ? round.number : null, last: next }
      : { code: 'maybe-a-round-more' },
    ifMore: isLast ? { code: 'last-round-now', ripTo: round.number - 1, last: next } : { code: 'maybe-a-round-fewer' },
  };
}

/** Whether the round can be worked over again on itself: it is of one kind with the one below and changes no count. */
function keepsCount(round: Round, all: readonly Round[]): boolean {
  const below = all.find(({ number }) => number === round.number - 1);
  return below?.part === round.part && below.stitches === round.stitches && below.spaces === round.spaces;
}
