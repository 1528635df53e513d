import { type Estimate, estimate, NORMAL_95 } from '../estimate.ts';
import type { ContainerModel } from './container-model.ts';
import { type ContainerSizes, containerSizes, propagatedSd, widestPlaces } from './container-sizes.ts';
import type { ContainerFit, Solved } from './fit-container.ts';
import { LOG_HEIGHT } from './parameters.ts';

/** One size of the fitted container with its uncertainty. */
export function sizeEstimate(fit: ContainerFit, size: keyof ContainerSizes): Estimate {
  const { model: own, solution } = fit;
  // beside a coin all lengths are uncertain together and by more: at each step another knot would stand out as the widest
  const widest = own.seen.rim.length > 0 ? widestPlaces(own, solution.parameters) : undefined;
  return estimateOf(
    fit,
    (model, parameters) => containerSizes(model, parameters, model === own ? widest : undefined)?.[size] ?? Number.NaN,
  );
}

/**
 * A function of the parameters with its uncertainty: the covariance propagated, and what the rivals add.
 */
export function estimateOf(
  fit: ContainerFit,
  value: (model: ContainerModel, parameters: Float64Array) => number,
): Estimate {
  const { model, solution, covariance } = fit;
  const sd = propagatedSd((parameters) => value(model, parameters), solution.parameters, covariance);
  const best = value(model, solution.parameters);
  const distances = rivalShares(fit).map(
    ({ rival, share }) => Math.sqrt(share) * (value(rival.model, rival.solution.parameters) - best),
  );
  return estimate(best, Math.hypot(sd, ...distances));
}

/** A rival likelier than this has its place inside a 95 % interval. */
const LIKELY_RIVAL = 0.05;

/**
 * The other solutions, each with the share of its squared distance that it adds to a variance: how likely it is, which is
 * the variance of a mixture; and at least as much as puts it inside the 95 % interval when it is not unlikely.
 */
export function rivalShares({
  cost,
  rivals,
}: Pick<ContainerFit, 'cost' | 'rivals'>): readonly { readonly rival: Solved; readonly share: number }[] {
  const odds = rivals.map((rival) => Math.exp(-costAbove(cost, rival) / 2));
  const all = odds.reduce((sum, one) => sum + one, 1);
  return rivals.map((rival, k) => {
    const chance = odds[k] / all;
    return { rival, share: chance > LIKELY_RIVAL ? Math.max(chance, NORMAL_95 ** -2) : chance };
  });
}

/** What the rivals alone add to the uncertainty of the height, as a share of it. */
export function rivalRelativeSd(fit: Pick<ContainerFit, 'solution' | 'cost' | 'rivals'>): number {
  const distances = rivalShares(fit).map(
    ({ rival, share }) =>
      Math.sqrt(share) * (rival.solution.parameters[LOG_HEIGHT] - fit.solution.parameters[LOG_HEIGHT]),
  );
  return Math.hypot(...distances);
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
