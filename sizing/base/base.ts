import type { Meridian } from '../body/meridian.ts';
import { shapedRound } from '../body/shaping.ts';
import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import { discWidth } from '../follow/gauge-update.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { BaseReason } from '../notes.ts';
import { type BaseCandidate, type Round, startAfter } from '../plan.ts';
import { RefusedInput } from '../refusal.ts';
import { STITCH_FACTS } from '../stitches.ts';
import {
  type BaseShape,
  type BaseTarget,
  bestBases,
  type WorkedBase,
  wholeFlatIncreases,
  workedInJoinedRounds,
} from './base-candidates.ts';
import { flatIncreases, flatnessRatio, flatShape, widthAcrossMm } from './flat-circle.ts';

export interface Base {
  readonly shape: BaseShape;
  readonly candidates: readonly BaseCandidate[];
  readonly rounds: readonly Round[];
  /** Where the last shaped round has its increases, as shares of a turn. */
  readonly shapedAt: readonly number[];
}

/** How much of the rounded edge the disc reaches: to its middle, a quarter of a turn's half. */
const EDGE_SHORTFALL = 1 - Math.PI / 4;

/** A best base further off than this in reach or circumference is no base: the yarn is too coarse for the container. */
const WORST_REACH_LOG = 0.45;
const WORST_CIRCUMFERENCE_LOG = 0.2;

/** What the base must become: for a mat its full size, else the container's base to the middle of its rounded edge. */
export function baseTarget(container: Container, meridian: Meridian, choices: Choices): BaseTarget {
  const diameterMm = container.baseDiameterMm.value;
  if (choices.carrier === 'mat') {
    const acrossMm = diameterMm + 2 * choices.matOverhangMm;
    return targetOf(Math.PI * acrossMm, acrossMm / 2);
  }
  return targetOf(
    Math.PI * diameterMm * (1 + choices.easeRatio),
    diameterMm / 2 - EDGE_SHORTFALL * meridian.edgeRadiusMm,
  );
}

function targetOf(circumferenceMm: number, reachMm: number): BaseTarget {
  return { circumferenceMm, reachMm, flatnessLog: Math.log(circumferenceMm / (2 * Math.PI * reachMm)) };
}

/** Width across the finished, patted disc that meets the target exactly. */
export function targetWidthMm({ circumferenceMm, reachMm }: BaseTarget): number {
  return widthAcrossMm(circumferenceMm, 1, reachMm);
}

export function baseOf(target: BaseTarget, gauge: Gauge, choices: Choices, worked: WorkedBase): Base {
  const offered = bestBases(target, gauge, choices, worked);
  if (worked.base.length === 0) refuseIfTooCoarse(offered[0], target, gauge);
  const shape = offered[Math.min(choices.baseCandidate, offered.length - 1)];
  return {
    shape,
    candidates: offered.map((each) => candidateOf(each, target, gauge, choices)),
    ...baseRounds(shape, gauge),
  };
}

function refuseIfTooCoarse(best: BaseShape | undefined, target: BaseTarget, gauge: Gauge): void {
  const widthMm = gauge.stitchWidthMm.value;
  const reaches = best && Math.abs(Math.log(best.reachMm / target.reachMm)) <= WORST_REACH_LOG;
  const closes =
    best && Math.abs(Math.log((best.stitchesAround * widthMm) / target.circumferenceMm)) <= WORST_CIRCUMFERENCE_LOG;
  if (reaches && closes) return;
  throw new RefusedInput({
    code: 'too-coarse',
    field: 'gauge.stitchWidthMm',
    value: widthMm,
    why: 'base',
    roundHeightMm: gauge.roundHeightMm.value,
    targetMm: targetWidthMm(target),
  });
}

function baseRounds(shape: BaseShape, gauge: Gauge): { rounds: Round[]; shapedAt: readonly number[] } {
  const joined = workedInJoinedRounds(gauge.stitch);
  let shapedAt: readonly number[] = [];
  const rounds = shape.rounds.map((round, index): Round => {
    const soFar = shape.rounds.slice(0, index + 1);
    const reachMm = soFar.reduce((sum, { stitch }) => sum + roundHeightMm(gauge, stitch), 0);
    const ratio = flatnessRatio(round.stitches, gauge.stitchWidthMm.value, reachMm);
    const from = index === 0 ? 0 : shape.rounds[index - 1].stitches;
    const shaped = shapedRound({
      from,
      to: round.stitches,
      stitch: round.stitch,
      joined,
      avoid: shapedAt,
      mayEnd: index === shape.rounds.length - 1,
    });
    shapedAt = shaped.at;
    return {
      number: index + 1,
      part: 'base',
      starts: index === 0 ? 'ring' : startAfter(joined ? 'joined' : 'spiral'),
      closing: joined ? 'joined' : 'spiral',
      stitch: round.stitch,
      steps: shaped.steps,
      stitches: round.stitches,
      spaces: 0,
      widthMm: discWidth(soFar, gauge),
      heightMm: null,
      flatness: { ratio, shape: flatShape(ratio) },
      notes: [],
    };
  });
  return { rounds, shapedAt };
}

function candidateOf(shape: BaseShape, target: BaseTarget, gauge: Gauge, choices: Choices): BaseCandidate {
  return {
    start: shape.rounds[0].stitches,
    increasesPerRound: shape.increasesPerRound,
    rounds: shape.rounds.length,
    lastStitch: shape.rounds[shape.rounds.length - 1].stitch,
    stitchesAround: shape.stitchesAround,
    widthMm: discWidth(shape.rounds, gauge),
    cells: shape.cells,
    aims: shape.aims,
    score: shape.score,
    terms: shape.terms,
    reasons: reasonsFor(shape, target, gauge, choices),
  };
}

function reasonsFor(shape: BaseShape, target: BaseTarget, gauge: Gauge, choices: Choices): BaseReason[] {
  const widthMm = gauge.stitchWidthMm.value;
  const off = (shape.stitchesAround * widthMm) / target.circumferenceMm - 1;
  const reasons: BaseReason[] = [
    Math.abs(off) < 0.005 ? { code: 'rim-exact' } : { code: 'rim-off', share: off, byMm: off * target.circumferenceMm },
    { code: 'lies', shape: flatShape(flatnessRatio(shape.stitchesAround, widthMm, shape.reachMm)) },
  ];
  if (choices.carrier === 'net') {
    const uneven = shape.terms.mesh >= 1;
    reasons.push({ code: 'cells', cells: shape.cells, skip: choices.mesh.skip, uneven });
  }
  const perRound = wholeFlatIncreases(gauge);
  if (shape.stitchesAround % perRound === 0) reasons.push({ code: 'full-rounds' });
  const [fewest, most] = STITCH_FACTS[gauge.stitch].customaryStart;
  if (perRound < fewest || perRound > most) {
    const flat = flatIncreases(gauge.roundHeightMm.value, widthMm);
    reasons.push({ code: 'own-increases', flat, customary: fewest });
  }
  const last = shape.rounds[shape.rounds.length - 1].stitch;
  if (last !== gauge.stitch) reasons.push({ code: 'ends-in', stitch: last });
  return reasons;
}
