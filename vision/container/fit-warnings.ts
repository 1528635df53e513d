import { add, norm, scale } from '../geometry/linear3.ts';
import { type Arrangement, type Problem, type ProblemCode, problem } from '../measurement.ts';
import { standingGap } from './arrangement-equations.ts';
import { wallAt } from './container-sizes.ts';
import { UNCERTAIN_RELATIVE_SD } from './finding-error.ts';
import type { ContainerFit, Solved } from './fit-container.ts';
import { LOG_FOCAL } from './parameters.ts';
import { rivalRelativeSd, sizeEstimate } from './size-estimate.ts';

/** So many samples must touch the rounded base edge for the base to count as seen; a sharp edge counts as this. */
const BASE_SAMPLES = 4;
const SHARP_EDGE_MM = 0.6;
/** A handle or a shadow takes up to a few per cent of the outline; what is not round disagrees nearly everywhere. */
const SOME_OUTLIERS = 0.06;
const TOO_MANY_OUTLIERS = 0.3;
/** χ² of about 20 equations and priors, and of one outline sample, that no honest photo comes near. */
const TORN_STRETCH = 60;
const TORN_COST = 10;
/** Outline residuals this many times their noise. */
const LARGE_MISFIT = 1.6;
const TORN_MISFIT = 3.5;
/** Beyond this many card lengths the card says little about the container's place. */
const FAR_CARD_LENGTHS = 3.5;
const FAR_COIN_DIAMETERS = 8;
/** Standard uncertainties that a lens may be away from what is known beforehand: one honest photo in a hundred is further. */
const UNUSUAL_LENS = 2.6;
/** Priors of focal length, image centre (2) and distortion. */
const LENS_PRIORS = 4;
/** Relative sd of the focal length after the fit: only a card seen nearly square-on leaves it this uncertain. */
const POORLY_KNOWN_FOCAL = 0.025;

/** A standing thing whose height may be less than this is a coaster or a shadow. */
const LEAST_HEIGHT_MM = 15;

/** Whether the outline shows the container down to its base, or a hand has put the base in its place. */
export function isBaseSeen({ model, state, solution }: Pick<ContainerFit, 'model' | 'state' | 'solution'>): boolean {
  const zone = Math.max(state.baseEdgeMm, SHARP_EDGE_MM);
  if (model.handTouchZMm.some((zMm) => zMm < zone)) return true;
  const seen = model.seen.outline.filter(
    ({ supposed }, i) => !supposed && model.touchZMm[i] < zone && solution.weights[model.outlineRow + i] > 0.3,
  );
  return seen.length >= BASE_SAMPLES;
}

/** Shares of the height between which a wall shows how it would go on straight to the base. */
const WALL_ABOVE_FOOT = [0.2, 0.45] as const;

/**
 * How far the wall has turned inwards at the base, as a share of where it would be had it gone on straight. Such a body
 * hides from above what it stands on: whether it turns in as far again or has just stopped, no outline tells, so that this
 * is the relative standard uncertainty of its base diameter. tests/vision/container/narrowing-below.test.ts
 */
export function narrowingBelow({ model, solution, state }: Pick<ContainerFit, 'model' | 'solution' | 'state'>): number {
  const wall = (share: number) => wallAt(model, solution.parameters, share * state.heightMm);
  const [low, high] = WALL_ABOVE_FOOT;
  const straight = wall(low) - ((wall(high) - wall(low)) * low) / (high - low);
  return Math.max(0, 1 - wall(0) / straight);
}

/**
 * Standing, only the base says how far away the container is; with the card on its front nothing else says how far down it
 * reaches. A card that leans stands on the table itself.
 */
const NEEDS_BASE: readonly Arrangement[] = ['standing', 'card-on-front'];

/**
 * Why a solution is no measurement: it does not explain the outline, or only by stretching what is known beforehand, or
 * much of the outline belongs to no round body. Null when it can be used.
 */
export function fitRefusal(fit: ContainerFit): ProblemCode | null {
  const { model, cost } = fit;
  if (outlierShare(fit) > TOO_MANY_OUTLIERS) return 'not-round';
  if (stretchOf(fit) > TORN_STRETCH || cost > TORN_COST * model.seen.outline.length) return 'fit-failed';
  if (fit.misfit > TORN_MISFIT) return 'not-round';
  if (fit.arrangement === 'standing' && sizeEstimate(fit, 'heightMm').low95 < LEAST_HEIGHT_MM) return 'too-flat';
  return NEEDS_BASE.includes(fit.arrangement) && !isBaseSeen(fit) ? 'base-hidden' : null;
}

/** χ² of the equations and the priors of single parameters, by their robust weights. */
export function stretchOf({ model, solution }: Solved): number {
  let stretch = 0;
  for (let row = model.equationRow; row < model.bendRow; row++)
    stretch += solution.weights[row] * solution.residuals[row] ** 2;
  return stretch;
}

/** Share of the outline samples that the fit has given up on. */
function outlierShare({ model, solution }: ContainerFit): number {
  let outliers = 0;
  for (let row = model.outlineRow; row < model.equationRow; row++) if (solution.weights[row] < 0.3) outliers++;
  return outliers / model.seen.outline.length;
}

/** What is doubtful about a fit that can still be used. */
export function fitWarnings(fit: ContainerFit): readonly Problem[] {
  const { model, state, sight, covariance } = fit;
  const warnings: Problem[] = [];
  if (sight.focalPrior.source === 'typical-phone') {
    const focalSd = Math.sqrt(covariance[LOG_FOCAL * model.parameterCount + LOG_FOCAL]);
    // a circle says little about the lens from any side
    const isSquareOn = focalSd > POORLY_KNOWN_FOCAL && !sight.card.rim;
    warnings.push(problem(isSquareOn ? 'card-square-on' : 'typical-focal'));
  }
  if (sight.looksCropped) warnings.push(problem('looks-cropped'));
  const lens = fit.solution.residuals.subarray(model.priorRow, model.priorRow + LENS_PRIORS);
  // a rectangle of other proportions than the reference's is only explained by bending the lens
  if (lens.some((sds) => Math.abs(sds) > UNUSUAL_LENS)) warnings.push(problem('card-or-lens-unusual'));
  if (outlierShare(fit) > SOME_OUTLIERS || fit.misfit > LARGE_MISFIT) warnings.push(problem('maybe-not-round'));
  if (sight.card.rim && rivalRelativeSd(fit) > UNCERTAIN_RELATIVE_SD) warnings.push(problem('round-seen-two-ways'));
  if (!isBaseSeen(fit)) warnings.push(problem('base-not-visible'));
  if (fit.arrangement === 'standing' && standingGap(sight.raisedChance ?? 0).mm > 0)
    warnings.push(problem('stands-on-something'));
  const middle = add(state.baseCentreMm, scale(state.axis, state.heightMm / 2));
  const reach = sight.card.rim ? FAR_COIN_DIAMETERS : FAR_CARD_LENGTHS;
  if (norm(middle) > reach * sight.reference.widthMm) {
    warnings.push(problem(sight.card.rim ? 'round-far-away' : 'card-far-away'));
  }
  return warnings;
}
