import type { Base } from '../base/base.ts';
import type { BaseTarget } from '../base/base-candidates.ts';
import { type Band, LOOSE_BAND } from '../body/band.ts';
import { CELL_LIMITS, type Mesh } from '../body/mesh.ts';
import type { Wall } from '../body/wall.ts';
import { FABRIC_GIVE } from '../body/wall.ts';
import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import type { Gauge } from '../gauge.ts';
import type { FitPlace } from '../plan.ts';
import type { FitLimit } from './fit.ts';

/**
 * Container circumference over the carrier's own, where it is too loose and where too tight: common practice, no source.
 * All are absolute, whatever the plan aims at. A base under a net may be a good deal off before the net is none; a sleeve
 * must grip somewhere; a band must pass the widest place and must not gape where it sits.
 */
const NET_BASE = { loose: 0.88, tight: 1 + FABRIC_GIVE } as const;
const SLEEVE = { loose: 0.99, tight: 1 + FABRIC_GIVE } as const;
const MAT = { loose: 0.95, tight: 1.05 } as const;
const BAND = { loose: 1 - LOOSE_BAND, tight: 1 + FABRIC_GIVE } as const;

export interface FitLimitInputs {
  readonly container: Container;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly target: BaseTarget;
  readonly base: Base;
  readonly wall: Wall | null;
  readonly mesh: Mesh | null;
  readonly band: Band | null;
}

/** Every demand the finished carrier must meet, as the factor by which the plan may be off. */
export function fitLimits(inputs: FitLimitInputs): FitLimit[] {
  return [...baseLimits(inputs), ...wallLimits(inputs), ...meshLimits(inputs), ...bandLimits(inputs)];
}

/** A sleeve is judged by its wall, which covers the rim of the base. */
function baseLimits({ container, gauge, choices, target, base }: FitLimitInputs): FitLimit[] {
  if (choices.carrier === 'sleeve') return [];
  const carrierMm = base.shape.stitchesAround * gauge.stitchWidthMm.value;
  if (choices.carrier === 'mat') return [limitOf('base', MAT, target.circumferenceMm / carrierMm)];
  return [limitOf('base', NET_BASE, (Math.PI * container.baseDiameterMm.value) / carrierMm)];
}

/** A sleeve grips where it is tightest on the container, and must pass every wider place below each of its rounds. */
function wallLimits({ choices, gauge, wall }: FitLimitInputs): FitLimit[] {
  if (choices.carrier !== 'sleeve' || !wall || wall.rings.length === 0) return [];
  const widthMm = gauge.stitchWidthMm.value;
  const grip = Math.max(...wall.rings.map(({ aroundMm, stitches }) => aroundMm / (stitches * widthMm)));
  const pass = Math.max(...wall.rings.map(({ passMm, stitches }) => passMm / (stitches * widthMm)));
  return [{ where: 'wall', low: SLEEVE.loose / grip, high: SLEEVE.tight / pass }];
}

function meshLimits({ choices, mesh }: FitLimitInputs): FitLimit[] {
  const { loose, tight } = CELL_LIMITS[choices.mesh.kind];
  return (mesh?.zones ?? []).map((zone) => ({
    where: 'mesh',
    // Where the container narrows, cells hang loose that had to pass it; the zone holds where it is drawn widest.
    low: loose / zone.openness[1],
    high: tight / zone.openness[1],
  }));
}

function bandLimits({ choices, band, wall, mesh }: FitLimitInputs): FitLimit[] {
  if (!band) return [];
  const seat = 1 - band.fit.slackAtSeat;
  const pass = 1 + band.fit.stretchToInsert;
  // The band of a sleeve is one more ring of its wall: whether it grips is judged there. A cord draws any band together.
  const gripsBelow = (choices.carrier === 'sleeve' && wall !== null && mesh === null) || choices.top === 'drawstring';
  return [{ where: 'band', low: gripsBelow ? 0.01 : BAND.loose / seat, high: BAND.tight / pass }];
}

function limitOf(where: FitPlace, { loose, tight }: { loose: number; tight: number }, planned: number): FitLimit {
  return { where, low: loose / planned, high: tight / planned };
}
