import { type Estimate, estimate } from '../estimate.ts';
import type { ContainerModel } from './container-model.ts';
import { type ContainerSizes, containerSizes, propagatedSd } from './container-sizes.ts';
import type { ContainerFit, Solved } from './fit-container.ts';

/**
 * Beside a coin all lengths are uncertain together and by more: with the usual step a single knot would stand out as the
 * widest place.
 */
const STEP_BESIDE_COIN = 0.01;

/** One size of the fitted container with its uncertainty. */
export function sizeEstimate(fit: ContainerFit, size: keyof ContainerSizes): Estimate {
  return estimateOf(fit, (model, parameters) => containerSizes(model, parameters)?.[size] ?? Number.NaN);
}

/**
 * A function of the parameters with its uncertainty: the covariance propagated, and where a rival solution explains the
 * photo nearly as well, its distance, weighted by how likely it is (variance of a mixture of the two).
 */
export function estimateOf(
  { model, solution, covariance, rival, cost }: ContainerFit,
  value: (model: ContainerModel, parameters: Float64Array) => number,
): Estimate {
  const stepShare = model.seen.rim.length > 0 ? STEP_BESIDE_COIN : undefined;
  const sd = propagatedSd((parameters) => value(model, parameters), solution.parameters, covariance, stepShare);
  const best = value(model, solution.parameters);
  if (!rival) return estimate(best, sd);
  const odds = Math.exp(-costAbove(cost, rival) / 2);
  const distance = value(rival.model, rival.solution.parameters) - best;
  return estimate(best, Math.hypot(sd, Math.sqrt(odds / (1 + odds)) * distance));
}

/** Knots and edges of a wall are set anew for every solution, which leaves χ² uncertain by about this. */
const KNOTS_COST = 12;

/**
 * How much worse than the best solution another explains the photo, as a difference of χ². Beside a coin the two poses of
 * its circle are so far apart and fit so nearly alike that what the knots do counts.
 */
export function costAbove(bestCost: number, { model, solution }: Solved): number {
  const uncertain = model.seen.rim.length > 0 ? KNOTS_COST : 0;
  return Math.max(solution.cost - bestCost - uncertain, 0);
}
