import { informationMatrix, invertSymmetric, type LeastSquaresFit, leastSquares } from '../geometry/least-squares.ts';
import { add, scale } from '../geometry/linear3.ts';
import { carveProfile } from './carve-profile.ts';
import { ContainerModel } from './container-model.ts';
import { wallAt } from './container-sizes.ts';
import type { ContainerFit, Solved } from './fit-container.ts';
import { isBaseSeen } from './fit-warnings.ts';
import { isShape, JointModel } from './joint-model.ts';
import { AXIS_TURN, BASE_CENTRE, LOG_BASE_EDGE, LOG_HEIGHT, LOG_TOP_EDGE, WALL } from './parameters.ts';
import { type Agreement, DISAGREE_BELOW, type LogSizes, photosAgree } from './photos-agree.ts';
import { rivalRelativeSd, rivalShares, sampleCovariance, sizeDraws, sizeOf } from './size-estimate.ts';

/** One photo of the container, fitted on its own. */
export interface FittedPhoto {
  readonly fit: ContainerFit;
  /** Relative standard uncertainty of its sizes because its outline may not be the container's (outline-evidence.ts). */
  readonly findingSd: number;
}

export interface SameContainerFit {
  /** The container as all photos together say it is, seen from the one that shows it best. */
  readonly fit: ContainerFit;
  /** Which photo that is. */
  readonly photo: number;
  readonly agreement: Agreement;
}

/** Layouts of the wall's knots to try: those of the photos that know the container best. */
const LAYOUTS_TO_TRY = 3;
const FINELY = { maxIterations: 40, relativeTolerance: 3e-5, damping: 1e-4 };
const SHAPE_STEPS = 41;

/**
 * Fits one container to several photos at once (joint-model.ts), after each has been fitted on its own. Photos that do
 * not agree with the others are left out; when those that are left still disagree, the uncertainties grow by √(χ²/ν)
 * (Birge ratio; Particle Data Group, Review of Particle Physics, "Unconstrained averaging").
 * @param photos  at least one
 * @returns null when there is no joint solution
 */
export function fitSameContainer(photos: readonly FittedPhoto[]): SameContainerFit | null {
  const oneCard = photos.every(({ fit }) => fit.sight.reference.name === photos[0].fit.sight.reference.name);
  const sizes = photos.map((photo) => logSizes(photo, oneCard));
  const agreement = photosAgree(sizes);
  const kept = photos.map((_, k) => k).filter((k) => !agreement.leftOut.includes(k));
  const spread = (k: number) => sizes[k].covariance[0] + sizes[k].covariance[2];
  const surest = [...kept].sort((a, b) => spread(a) - spread(b));
  const joint = bestJoint(
    kept.map((k) => photos[k]),
    surest.slice(0, LAYOUTS_TO_TRY).map((k) => kept.indexOf(k)),
  );
  const covariance = joint && invertSymmetric(informationMatrix(joint.solution), joint.model.parameterCount);
  if (!joint || !covariance) return null;
  const { chiSquared, degreesOfFreedom, probability } = agreement;
  const widened = probability < DISAGREE_BELOW ? chiSquared / degreesOfFreedom : 1;
  const wider = covariance.map((value) => value * widened);
  const seen = surest.map((photo) => ({ photo, fit: seenFrom(photos[photo].fit, joint, kept.indexOf(photo), wider) }));
  const shown = seen.find(({ fit }) => isBaseSeen(fit)) ?? seen[0];
  return { ...shown, agreement };
}

interface Joint {
  readonly model: JointModel;
  readonly solution: LeastSquaresFit;
}

/** Solves with the knots and the first shape of each of the given photos in turn, and keeps what fits best. */
function bestJoint(photos: readonly FittedPhoto[], layouts: readonly number[]): Joint | null {
  const upright = photos.find(({ fit }) => fit.arrangement !== 'lying') ?? photos[layouts[0]];
  const solved = photos.map(({ fit }) => sameEndUp(fit, upright.fit));
  // which of its solutions a photo shows is left open as a finding error is: the other photos choose its scale
  const findingSds = photos.map(({ fit, findingSd }) => Math.hypot(findingSd, rivalRelativeSd(fit)));
  let best: Joint | null = null;
  for (const layout of layouts) {
    const model = jointModel(solved, findingSds, solved[layout]);
    const solution = model && leastSquares(model, model.start(layout), FINELY);
    if (solution && !(best && best.solution.cost <= solution.cost)) best = { model, solution };
  }
  return best;
}

/** All photos on the knots of one of them. */
function jointModel(photos: readonly Solved[], findingSds: readonly number[], layout: Solved): JointModel | null {
  const { knots } = layout.model.frame;
  const unseenKnots = Array.from(knots.knotShares, () => true);
  for (const { model, solution } of photos) {
    const state = model.stateAt(solution.parameters);
    if (!state) return null;
    carveProfile(model.seen.outline, state, knots.knotShares).seen.forEach((_, k, seen) => {
      // also the neighbours of unseen knots, lest the wall bends just where sight of it is lost
      if (!seen.slice(Math.max(k - 2, 0), k + 3).includes(false)) unseenKnots[k] = false;
    });
  }
  const shape = layout.solution.parameters;
  return new JointModel(
    photos.map(({ model, solution }, k) => ({
      model: new ContainerModel(model.seen, { ...model.frame, knots, unseenKnots }),
      parameters: shape.map((value, i) => (isShape(i) ? value : solution.parameters[i])),
      findingSd: findingSds[k],
    })),
  );
}

/** A container on its side may have been measured with its other end as the base: turns it to fit the other photo. */
function sameEndUp(fit: ContainerFit, other: ContainerFit): Solved {
  const wall = wallShape(other);
  const own = wallShape(fit);
  const distance = (shape: readonly number[]) => shape.reduce((sum, radius, i) => sum + (radius - wall[i]) ** 2, 0);
  const fits = fit.arrangement !== 'lying' || distance(own) <= distance([...own].reverse());
  return fits ? fit : otherEndUp(fit);
}

function otherEndUp({ model, state, solution }: ContainerFit): Solved {
  const { knotShares, edgeShares } = model.frame.knots;
  const fromTop = (shares: Float64Array) => shares.map((share) => 1 - share).reverse();
  const r = state.containerRotation;
  const frame = {
    ...model.frame,
    containerRotation: [r[0], -r[1], -r[2], r[3], -r[4], -r[5], r[6], -r[7], -r[8]],
    knots: { knotShares: fromTop(knotShares), edgeShares: fromTop(edgeShares) },
  };
  const parameters = Float64Array.from(solution.parameters);
  parameters.set(add(state.baseCentreMm, scale(state.axis, state.heightMm)), BASE_CENTRE);
  parameters.fill(0, AXIS_TURN, AXIS_TURN + 2);
  parameters[LOG_BASE_EDGE] = solution.parameters[LOG_TOP_EDGE];
  parameters[LOG_TOP_EDGE] = solution.parameters[LOG_BASE_EDGE];
  const shifts = WALL + knotShares.length;
  parameters.subarray(WALL, shifts).reverse();
  parameters.set(
    solution.parameters
      .slice(shifts)
      .map((shift) => -shift)
      .reverse(),
    shifts,
  );
  return { model: new ContainerModel(model.seen, frame), solution: { ...solution, parameters } };
}

function wallShape({ model, solution: { parameters } }: ContainerFit): readonly number[] {
  const heightMm = Math.exp(parameters[LOG_HEIGHT]);
  return Array.from({ length: SHAPE_STEPS }, (_, i) => wallAt(model, parameters, (i / (SHAPE_STEPS - 1)) * heightMm));
}

/** The joint solution as a fit of one of its photos, so that sizes and outline are read from it as from any other. */
function seenFrom(alone: ContainerFit, joint: Joint, place: number, covariance: Float64Array): ContainerFit {
  const { model } = joint.model.photos[place];
  const columns = joint.model.columnsOf(place);
  const n = columns.length;
  const parameters = Float64Array.from(columns, (column) => joint.solution.parameters[column]);
  const residuals = new Float64Array(model.residualCount);
  const jacobian = new Float64Array(model.residualCount * n);
  model.evaluate(parameters, residuals, jacobian);
  const weights = joint.model.rowsOf(place, joint.solution.weights);
  const ofPhoto = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) ofPhoto[i * n + j] = covariance[columns[i] * joint.model.parameterCount + columns[j]];
  }
  return {
    ...alone,
    model,
    solution: { ...joint.solution, parameters, residuals, jacobian, weights },
    state: model.stateAt(parameters) ?? alone.state,
    cost: joint.solution.cost,
    covariance: ofPhoto,
    rivals: [],
  };
}

/**
 * Widest diameter and height as one photo alone gives them. The size of a card that all photos share cannot make them
 * differ, so its part of the covariance is left out.
 */
function logSizes({ fit, findingSd }: FittedPhoto, oneCard: boolean): LogSizes {
  const draws = sizeDraws(fit);
  const sizes = ['maxDiameterMm', 'heightMm'] as const;
  const values = sizes.map((size) => Math.log(sizeOf(fit, size)));
  const drawn = sizes.map((size) => draws.map((draw) => Math.log(draw[size])));
  const card = draws.map(({ cardSize }) => cardSize);
  const byCard = drawn.map((logs) => (oneCard ? sampleCovariance(logs, card) : 0));
  const cardVariance = sampleCovariance(card, card);
  const apart = rivalShares(fit).map(({ rival, share }) => ({
    share,
    away: sizes.map((size, i) => Math.log(sizeOf(rival, size)) - values[i]),
  }));
  const covarianceOf = (i: number, j: number) =>
    sampleCovariance(drawn[i], drawn[j]) -
    (byCard[i] * byCard[j]) / cardVariance +
    findingSd ** 2 +
    apart.reduce((sum, { share, away }) => sum + share * away[i] * away[j], 0);
  return { values: [values[0], values[1]], covariance: [covarianceOf(0, 0), covarianceOf(0, 1), covarianceOf(1, 1)] };
}
