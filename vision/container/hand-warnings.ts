import type { ProblemCode } from '../measurement.ts';
import { wallAt } from './container-sizes.ts';
import type { ContainerFit } from './fit-container.ts';
import type { HandPlacement } from './hand-placement.ts';

/** A hand this many of its own sds from where the solid came to lie was overruled by clear edges. */
const OVERRULED_SDS = 3;
/** A bump stands out from the line through the wall this far below and above it. */
const BESIDE_SHARE = 0.2;
/** Nothing that a hand makes by chance: share of the radius. */
const BUMP_SHARE = 0.02;

/** What has to be asked about what a hand did. */
export function handWarnings(fit: ContainerFit, hand: readonly HandPlacement[]): readonly ProblemCode[] {
  const { model, solution } = fit;
  const warnings: ProblemCode[] = [];
  const residuals = solution.residuals.subarray(model.handRow);
  if (residuals.some((sds) => Math.abs(sds) > OVERRULED_SDS)) warnings.push('hand-against-edges');
  if (hand.some((placement) => isBump(fit, placement))) warnings.push('hand-bump');
  return warnings;
}

/** Whether a wall was pulled out to be the widest place, and its neighbourhood did not come along. */
function isBump({ model, solution, state }: ContainerFit, placement: HandPlacement): boolean {
  if (placement.feature !== 'wall' || placement.isSure) return false;
  const radius = (share: number) =>
    wallAt(model, solution.parameters, Math.min(Math.max(share, 0), 1) * state.heightMm);
  const here = radius(placement.share);
  const beside = (radius(placement.share - BESIDE_SHARE) + radius(placement.share + BESIDE_SHARE)) / 2;
  const widest = Math.max(...Array.from({ length: 21 }, (_, k) => radius(k / 20)));
  return here > 0.99 * widest && here > (1 + BUMP_SHARE) * beside;
}
