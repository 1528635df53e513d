import type { Meridian } from '../body/meridian.ts';
import { shapedRound } from '../body/shaping.ts';
import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import { discWidth } from '../follow/gauge-update.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { BaseCandidate, Round } from '../plan.ts';
import { refuseTooCoarse } from '../refusal.ts';
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
}

/** How much of the rounded edge the disc reaches: to its middle, a quarter of a turn's half. */
const EDGE_SHORTFALL = 1 - Math.PI / 4;

/** A best base further off than this in reach or circumference is no base: the yarn is too coarse for the container. */
const WORST_REACH_LOG = 0.45;
const WORST_CIRCUMFERENCE_LOG = 0.2;

const OFFERED = 3;

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
  const offered = bestBases(target, gauge, choices, worked, OFFERED);
  if (worked.base.length === 0) refuseIfTooCoarse(offered[0], target, gauge);
  const shape = offered[Math.min(choices.baseCandidate, offered.length - 1)];
  return {
    shape,
    candidates: offered.map((each) => candidateOf(each, target, gauge, choices)),
    rounds: baseRounds(shape, gauge),
  };
}

function refuseIfTooCoarse(best: BaseShape | undefined, target: BaseTarget, gauge: Gauge): void {
  const widthMm = gauge.stitchWidthMm.value;
  const reaches = best && Math.abs(Math.log(best.reachMm / target.reachMm)) <= WORST_REACH_LOG;
  const closes =
    best && Math.abs(Math.log((best.stitchesAround * widthMm) / target.circumferenceMm)) <= WORST_CIRCUMFERENCE_LOG;
  if (reaches && closes) return;
  refuseTooCoarse(
    'gauge.stitchWidthMm',
    widthMm,
    `Stitches ${widthMm.toFixed(1)} mm wide and rounds ${gauge.roundHeightMm.value.toFixed(1)} mm high are too coarse for a base of ${targetWidthMm(target).toFixed(0)} mm: take a thinner yarn or a lower stitch.`,
  );
}

function baseRounds(shape: BaseShape, gauge: Gauge): Round[] {
  const joined = workedInJoinedRounds(gauge.stitch);
  return shape.rounds.map((round, index): Round => {
    const soFar = shape.rounds.slice(0, index + 1);
    const reachMm = soFar.reduce((sum, { stitch }) => sum + roundHeightMm(gauge, stitch), 0);
    const ratio = flatnessRatio(round.stitches, gauge.stitchWidthMm.value, reachMm);
    const from = index === 0 ? 0 : shape.rounds[index - 1].stitches;
    return {
      number: index + 1,
      part: 'base',
      closing: joined ? 'joined' : 'spiral',
      stitch: round.stitch,
      steps: shapedRound({ from, to: round.stitches, stitch: round.stitch, joined, staggered: index % 2 === 1 }),
      stitches: round.stitches,
      spaces: 0,
      widthMm: discWidth(soFar, gauge),
      heightMm: null,
      flatness: { ratio, shape: flatShape(ratio) },
      note: null,
    };
  });
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
    score: shape.score,
    terms: shape.terms,
    reasons: reasonsFor(shape, target, gauge, choices),
  };
}

function reasonsFor(shape: BaseShape, target: BaseTarget, gauge: Gauge, choices: Choices): string[] {
  const widthMm = gauge.stitchWidthMm.value;
  const off = (shape.stitchesAround * widthMm) / target.circumferenceMm - 1;
  const reasons = [
    Math.abs(off) < 0.005
      ? 'The rim is as long as the container is round.'
      : `The rim is ${percent(Math.abs(off))} ${off > 0 ? 'longer' : 'shorter'} than wanted.`,
    flatnessReason(flatnessRatio(shape.stitchesAround, widthMm, shape.reachMm)),
  ];
  if (choices.carrier === 'net') reasons.push(meshReason(shape, choices));
  const perRound = wholeFlatIncreases(gauge);
  if (shape.stitchesAround % perRound === 0) reasons.push('All increase rounds are full ones, easy to count.');
  const [fewest, most] = STITCH_FACTS[gauge.stitch].customaryStart;
  if (perRound >= fewest && perRound <= most) {
    reasons.push('Your gauge lies flat with the customary number of increases.');
  } else {
    const flat = flatIncreases(gauge.roundHeightMm.value, widthMm).toFixed(1);
    reasons.push(`Your gauge lies flat with ${flat} increases a round, not with the customary ${fewest}.`);
  }
  const last = shape.rounds[shape.rounds.length - 1].stitch;
  if (last !== gauge.stitch) reasons.push(`The last round is in {${last}}, so that the width lands where it should.`);
  return reasons;
}

function flatnessReason(ratio: number): string {
  const words = {
    cone: 'It rises like a cone',
    cupped: 'It cups like a saucer',
    flat: 'It lies flat',
    'ruffle onset': 'Its rim begins to wave',
    ruffle: 'Its rim ruffles',
  } as const;
  const off = Math.round((ratio - 1) * 100);
  const why =
    off === 0
      ? 'exactly the stitches a flat disc needs'
      : `${Math.abs(off)} % ${off > 0 ? 'more' : 'fewer'} stitches than a flat disc needs`;
  return `${words[flatShape(ratio)]}: ${why}.`;
}

function meshReason(shape: BaseShape, { mesh }: Choices): string {
  const even =
    shape.cells % 2 === 0
      ? 'an even number, so the strap ends sit opposite each other'
      : 'an odd number, so one side of the strap has one cell more';
  const uneven = shape.terms.mesh >= 1 ? `; some cells skip one stitch more or less than ${mesh.skip}` : '';
  return `It carries ${shape.cells} cells, ${even}${uneven}.`;
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}
