import type { Base } from '../base/base.ts';
import type { BaseTarget } from '../base/base-candidates.ts';
import type { Band } from '../body/band.ts';
import { CELL_LIMITS, type Mesh } from '../body/mesh.ts';
import type { Wall } from '../body/wall.ts';
import { FABRIC_GIVE } from '../body/wall.ts';
import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import type { Gauge } from '../gauge.ts';
import type { FitLimit } from './fit.ts';

/** Container circumference over carrier circumference that still fits, per kind: common practice, no source. */
const NET_BASE = { low: 0.94, high: 1.08 } as const;
const SLEEVE = { low: 0.99, high: 1 + FABRIC_GIVE } as const;
const MAT = { low: 0.95, high: 1.05 } as const;

/** A band with this much slack more than planned no longer holds. */
const BAND_LOOSENING = 0.08;

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
  return [baseLimit(inputs), ...meshLimits(inputs), ...bandLimits(inputs)];
}

function baseLimit({ container, gauge, choices, target, base }: FitLimitInputs): FitLimit {
  const carrierMm = base.shape.stitchesAround * gauge.stitchWidthMm.value;
  const containerMm = choices.carrier === 'mat' ? target.circumferenceMm : Math.PI * container.baseDiameterMm.value;
  const planned = containerMm / carrierMm;
  const limits = choices.carrier === 'mat' ? MAT : choices.carrier === 'sleeve' ? SLEEVE : NET_BASE;
  return {
    where: choices.carrier === 'sleeve' ? 'wall' : 'base',
    low: limits.low / planned,
    high: limits.high / planned,
  };
}

function meshLimits({ choices, mesh }: FitLimitInputs): FitLimit[] {
  const { loose, tight } = CELL_LIMITS[choices.mesh.kind];
  return (mesh?.zones ?? []).map((zone) => ({
    where: 'mesh',
    low: loose / zone.openness[0],
    high: tight / zone.openness[1],
  }));
}

function bandLimits({ band }: FitLimitInputs): FitLimit[] {
  if (!band) return [];
  return [{ where: 'band', low: 1 - BAND_LOOSENING, high: (1 + FABRIC_GIVE + 0.005) / (1 + band.fit.stretchToInsert) }];
}
