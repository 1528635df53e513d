import type { Base } from '../base/base.ts';
import { type BaseShape, type BaseTarget, bestBases, type WorkedRound } from '../base/base-candidates.ts';
import type { WorkedSoFar } from '../build-plan.ts';
import type { Choices } from '../choices.ts';
import { RULER_SD_MM } from '../forecast/fit.ts';
import type { Gauge } from '../gauge.ts';
import type { Checkpoint, MeshZone, Part, Round } from '../plan.ts';
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

/** The narrowest tolerance worth printing: what a ruler reads on soft work. */
const NARROWEST_MM = 1.5;

/** The readings the decision table is worked out for, as shares of what is expected. */
const TABLE_READINGS = [0.92, 1.08] as const;

const MESH_CHECK_EVERY = 3;
const MOST_BASE_CHECKS = 6;
const MOST_HEIGHT_CHECKS = 8;

/** What to measure when, what to expect, and what to do otherwise. Only rounds that are still to be worked. */
export function checkpointsFor(inputs: CheckpointInputs): Checkpoint[] {
  const widths = roundsToMeasure(inputs.base.rounds).map((round) => widthCheckpoint(inputs, round));
  const body = inputs.parts
    .filter((part) => part.name === 'wall' || part.name === 'mesh')
    .flatMap((part) => part.rounds);
  const every = Math.max(MESH_CHECK_EVERY, Math.ceil(body.length / MOST_HEIGHT_CHECKS));
  const heights = body.flatMap((_, index) =>
    index === body.length - 1 || (index + 1) % every === 0 ? [heightCheckpoint(body, index)] : [],
  );
  return [...widths, ...heights].filter((checkpoint) => checkpoint.afterRound > inputs.worked.rounds);
}

/** All rounds of an everyday base; of a large one the second, the last and some evenly between. */
function roundsToMeasure(rounds: readonly Round[]): Round[] {
  const every = Math.ceil(rounds.length / MOST_BASE_CHECKS);
  return rounds.filter(
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
    shape: shapeAfter(disc, readingMm, { target, gauge, choices }),
  }));
  return {
    afterRound: round.number,
    measure: 'width across',
    expectedMm: expected,
    goOnMm,
    ifLess: `Your stitches are smaller. ${instead(small, disc, choices)}`,
    ifMore: `Your stitches are larger. ${instead(large, disc, choices)}`,
  };
}

/** The base as it should go on after this reading; when the disc is already too large, from a round earlier. */
function shapeAfter(
  disc: readonly WorkedRound[],
  readingMm: number,
  { target, gauge, choices }: Pick<CheckpointInputs, 'target' | 'gauge' | 'choices'>,
): BaseShape {
  const updated = gaugeAfterWidth(gauge, disc, readingMm, RULER_SD_MM);
  return bestContinuation(target, updated, choices, disc).shape;
}

export interface Continuation {
  readonly shape: BaseShape;
  /** Base rounds kept; fewer than were worked means ripping back. */
  readonly kept: number;
}

/** How much better the base must get for ripping back a round to be worth it, in the objective's steps. */
const RIP_BACK_GAIN = 0.8;

/** Ripping back further than this is starting anew. */
const MOST_RIPPED = 4;

/** Best way on from the worked rounds, ripping back as few as pays. */
export function bestContinuation(
  target: BaseTarget,
  gauge: Gauge,
  choices: Choices,
  worked: readonly WorkedRound[],
): Continuation {
  let best: Continuation | null = null;
  const fewer = Array.from({ length: Math.min(worked.length, MOST_RIPPED) }, (_, index) => worked.length - 1 - index);
  for (const kept of new Set([worked.length, ...fewer, 0])) {
    const [shape] = bestBases(target, gauge, choices, { base: worked.slice(0, kept), baseFinished: false }, 1);
    if (!shape) continue;
    if (best === null || shape.score < best.shape.score - RIP_BACK_GAIN) best = { shape, kept };
    if (best.shape.score < RIP_BACK_GAIN) break;
  }
  return best as Continuation;
}

interface Reading {
  readonly readingMm: number;
  readonly shape: BaseShape;
}

function instead({ readingMm, shape }: Reading, disc: readonly WorkedRound[], { carrier }: Choices): string {
  const kept = disc.every(
    (round, index) => shape.rounds[index]?.stitches === round.stitches && shape.rounds[index]?.stitch === round.stitch,
  );
  if (kept && shape.rounds.length === disc.length) {
    const next = carrier === 'mat' ? '' : ': go on with the wall';
    return `At {${readingMm} mm} the base is finished with this round${next}.`;
  }
  const last = shape.rounds[shape.rounds.length - 1];
  const rounds = shape.rounds.length === 1 ? '1 round' : `${shape.rounds.length} rounds`;
  const base = `${rounds} and ${shape.stitchesAround} stitches, the last round in {${last.stitch}}`;
  return `${kept ? 'Replan' : 'Rip back and replan'}: at {${readingMm} mm} the base becomes ${base}.`;
}

function heightCheckpoint(body: readonly Round[], index: number): Checkpoint {
  const round = body[index];
  const before = index === 0 ? 0 : (body[index - 1].heightMm?.value ?? 0);
  const expected = round.heightMm as NonNullable<Round['heightMm']>;
  const left = body.length - 1 - index;
  // Half a round, shared out over the rounds worked so far, is what the number of rounds still to come absorbs.
  const halfRoundMm = Math.max(1, (expected.value - before) / 2);
  const toleranceMm = left === 0 ? halfRoundMm : (halfRoundMm * (index + 1)) / body.length;
  const goOnMm = [expected.value - Math.max(1, toleranceMm), expected.value + Math.max(1, toleranceMm)] as const;
  return {
    afterRound: round.number,
    measure: 'height above the table',
    expectedMm: expected,
    goOnMm,
    ifLess: left === 0 ? 'Work one more round before the band.' : 'Replan with what you measured: a round more may do.',
    ifMore: left === 0 ? 'Rip back one round before the band.' : 'Replan with what you measured: a round fewer may do.',
  };
}
