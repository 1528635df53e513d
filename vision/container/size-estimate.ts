import { type Estimate, estimate, NORMAL_95 } from '../estimate.ts';
import { multivariateNormal } from '../geometry/normal-draws.ts';
import { type ContainerSizes, containerSizes } from './container-sizes.ts';
import type { ContainerFit, Solved } from './fit-container.ts';
import { CARD_SIZE, LOG_HEIGHT } from './parameters.ts';

/** Sampling error of a standard uncertainty from this many draws is 3 % of it. */
const DRAWS = 500;
const SEED = 101;

/** One container that may be what the photo shows. */
export interface SizeDraw extends ContainerSizes {
  /** Relative error of the reference's own size in this draw. */
  readonly cardSize: number;
}

const drawn = new WeakMap<ContainerFit, readonly SizeDraw[]>();

/**
 * Sizes of containers drawn from the fit's posterior. The widest diameter is a maximum, which has no derivative to
 * propagate: another knot may be the widest in each draw. Source: JCGM 101:2008 (propagation of distributions).
 */
export function sizeDraws(fit: ContainerFit): readonly SizeDraw[] {
  const known = drawn.get(fit);
  if (known) return known;
  const { model, solution, covariance } = fit;
  const sizes = multivariateNormal(solution.parameters, covariance, DRAWS, SEED).flatMap((parameters) => {
    const of = containerSizes(model, parameters);
    return of ? [{ ...of, cardSize: parameters[CARD_SIZE] }] : [];
  });
  drawn.set(fit, sizes);
  return sizes;
}

/** One size of the fitted container with its uncertainty: the scatter of the draws, and what the rivals add. */
export function sizeEstimate(fit: ContainerFit, size: keyof ContainerSizes): Estimate {
  const values = sizeDraws(fit).map((draw) => draw[size]);
  const best = sizeOf(fit, size);
  const distances = rivalShares(fit).map(({ rival, share }) => Math.sqrt(share) * (sizeOf(rival, size) - best));
  return estimate(best, Math.hypot(Math.sqrt(sampleCovariance(values, values)), ...distances));
}

/** Covariance of two quantities over the same draws. */
export function sampleCovariance(a: readonly number[], b: readonly number[]): number {
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [meanA, meanB] = [mean(a), mean(b)];
  return a.reduce((sum, value, i) => sum + (value - meanA) * (b[i] - meanB), 0) / Math.max(a.length - 1, 1);
}

export function sizeOf({ model, solution }: Solved, size: keyof ContainerSizes): number {
  return containerSizes(model, solution.parameters)?.[size] ?? Number.NaN;
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
