import { projectPoint } from '../geometry/camera-ray.ts';
import { cardPoses, cardTiltRad, mirroredPose } from '../geometry/card-pose.ts';
import { principalPointSdPx } from '../geometry/focal-prior.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { informationMatrix, invertSymmetric, type LeastSquaresFit, leastSquares } from '../geometry/least-squares.ts';
import {
  add,
  anyPerpendicular,
  cross,
  multiplyMatrices,
  norm,
  rotationFromVector,
  scale,
  subtract,
  type Vector3,
} from '../geometry/linear3.ts';
import { type Arrangement, ON_ONE_TABLE, type ProblemCode } from '../measurement.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { CardSide, CardSighting, OutlinePoint, OutlineSighting } from '../sighting.ts';
import { axisOf, standingGap } from './arrangement-equations.ts';
import { carveProfile } from './carve-profile.ts';
import {
  ContainerModel,
  cameraPoint,
  eyeInContainer,
  type ModelFrame,
  type ModelState,
  type Observations,
  type SideSamples,
} from './container-model.ts';
import { wallAt } from './container-sizes.ts';
import { fitRefusal, stretchOf } from './fit-warnings.ts';
import {
  AXIS_TURN,
  BASE_CENTRE,
  CARD_SHIFT,
  CARD_TURN,
  LOG_BASE_EDGE,
  LOG_FOCAL,
  LOG_HEIGHT,
  LOG_TOP_EDGE,
  WALL,
} from './parameters.ts';
import { costAbove } from './size-estimate.ts';
import { type SolidInView, solidOf } from './solid-in-view.ts';
import { type StartingValues, startingValues } from './starting-values.ts';
import { topComesFirst } from './which-end-is-top.ts';

/** What was seen in one photo. */
export interface PhotoSight {
  readonly imageWidthPx: number;
  readonly imageHeightPx: number;
  readonly focalPrior: FocalPrior;
  readonly looksCropped: boolean;
  readonly reference: FlatReference;
  readonly card: CardSighting;
  readonly outline: OutlineSighting;
  /** Chance that what stands does so on a saucer, coaster or the like, and not on the card's table; 0 when left out. */
  readonly raisedChance?: number;
  /** Where the maker put the outline; its sds are those of her hand. */
  readonly hand?: readonly OutlinePoint[];
}

export interface FitOptions {
  readonly arrangement: Arrangement;
  /** A fit of nearly the same picture, to go on from. */
  readonly start?: ContainerFit;
  /** Stays with `start` even where it no longer explains the picture well: quick while a hand is moving points. */
  readonly following?: boolean;
  /** Of a container lying down: its base is the end nearer to this image point, whatever its shape suggests. */
  readonly baseNearPx?: ImagePoint;
}

/** The container that explains the card and the outline best under one arrangement. */
export interface ContainerFit {
  readonly arrangement: Arrangement;
  readonly sight: PhotoSight;
  readonly model: ContainerModel;
  readonly solution: LeastSquaresFit;
  /** Camera, cameraFromCard and the axis at the solution. */
  readonly state: ModelState;
  /** Robust χ² of card, outline, equations and priors. */
  readonly cost: number;
  readonly degreesOfFreedom: number;
  /** Of the parameters (parameters.ts), row-major. */
  readonly covariance: Float64Array;
  /** How much worse than its stated noise the outline fits the model, ≥ 1. */
  readonly misfit: number;
  /** Other solutions that explain the photo nearly as well (the card leaning the other way round, say), best first. */
  readonly rivals: readonly Solved[];
}

/** Refusals of fits that explain the photo. */
const EXPLAINED: readonly ProblemCode[] = ['base-hidden', 'too-flat'];

export type FitResult =
  | { readonly ok: true; readonly fit: ContainerFit }
  /** `unusable` is a fit that explains the photo but leaves the sizes open: still evidence of how the card lies. */
  | {
      readonly ok: false;
      readonly reason: ProblemCode;
      readonly unusable?: ContainerFit;
      /** A fit that does not explain the photo: for a hand to start from. */
      readonly torn?: ContainerFit;
    };

const KNOTS = 48;
const QUICK_KNOTS = 30;
/** Steps along the height in which the shape of a container is judged. */
const SHAPE_STEPS = 41;
const QUICK_OUTLINE_POINTS = 110;
const FULL_OUTLINE_POINTS = 600;
const STARTS_TO_TRY = 6;
const STARTS_A_POSE = 4;
const HOLDING = 6;
const SIDE_SAMPLES = 8;
const RIM_SAMPLES = 60;
const SHARP_BEND_MM = 0.15;
const EDGE_PIECES = 5;
const SMALLEST_SPACING_MM = 0.4;
const CARVINGS = 2;
/** Robust χ² per sample before carving beyond which carving has nothing to work on: every sample some 30 sds off. */
const HOPELESS_COST = 22;
/** Before carving, solutions within this factor of the best χ² may still turn out better. */
const CLOSE_QUICK_COST = 1.3;
const QUICKLY = { rounds: 15, relativeTolerance: 1e-3 };
const FINELY = { rounds: 20, relativeTolerance: 3e-5 };
const SOLUTIONS_TO_CARVE = 3;
/** Turns that take the eye from one side of an end to the other, up to this: farther off the two rims differ plainly. */
const LARGEST_MIRRORING_RAD = 0.4;
/**
 * A fit explains the photo, and no other valley is looked for, when its robust χ² stays below one per outline sample and
 * the χ² of equations and priors below this (about 20 rows, most of which the data say nothing about).
 */
const CONVINCING_COST = 1;
const CONVINCING_STRETCH = 15;
/** Δχ² up to which another solution has to be reckoned with: one in a hundred. */
export const RIVAL_COST = 9;
/** Relative difference in height up to which two solutions are one. */
const SAME_SIZE = 0.003;
/** Carving anew gains up to about this. */
const UNCARVED_COST = 50;
const MOST_EDGES = 8;
const EDGES_APART_MM = 4;
const SMALLEST_OUTLINE = 12;
const SMALLEST_CARD_PX = 110;
/** Its rim is then known to about 1 % of the diameter. */
const SMALLEST_ROUND_PX = 60;
/** Beyond this the card's far side is a few pixels from its near side, and its own thickness hides the error. */
const MOST_TILTED_CARD_RAD = (72 * Math.PI) / 180;

/**
 * Fits camera, card pose, axis and profile jointly to the card's sides and the container's outline, for one way of
 * laying the card. Model: vision/container/README.md.
 * @returns the fit, or why there is none ('card-too-oblique', 'no-container', 'fit-failed', 'base-hidden', 'too-flat' and the like)
 */
export function fitContainer(sight: PhotoSight, options: FitOptions): FitResult {
  const { arrangement, start, following } = options;
  const unusable =
    sightRefusal(sight) ?? (sight.card.rim && !ON_ONE_TABLE.includes(arrangement) && 'round-not-on-table');
  if (unusable) return { ok: false, reason: unusable };
  const seen = observe(sight, arrangement);
  const baseNearPx = arrangement === 'lying' ? options.baseNearPx : undefined;
  const from = start?.arrangement === arrangement ? { ...withBaseNear(start, baseNearPx), rivals: start.rivals } : null;
  const found = (from && refit(from, seen, following)) ?? bestOfStarts(seen, sight, baseNearPx);
  if (!found) return { ok: false, reason: 'fit-failed' };
  const { best: rough, rivals } = found;
  const misfit = outlineMisfit(rough);
  const outlineSdFactor = rough.model.seen.outlineSdFactor * misfit;
  const final =
    misfit > 1.02 ? solve({ ...attemptOf(rough), seen: { ...rough.model.seen, outlineSdFactor } }, FINELY) : rough;
  if (!final) return { ok: false, reason: 'fit-failed' };
  const covariance = invertSymmetric(informationMatrix(final.solution), final.model.parameterCount);
  const state = final.model.stateAt(final.solution.parameters);
  if (!covariance || !state) return { ok: false, reason: 'fit-failed' };
  const fit: ContainerFit = {
    arrangement,
    sight,
    model: final.model,
    solution: final.solution,
    state,
    cost: rough.solution.cost,
    degreesOfFreedom: final.model.equationRow - effectiveParameters(final.model, final.solution, covariance),
    covariance,
    misfit,
    rivals,
  };
  const reason = fitRefusal(fit);
  if (!reason) return { ok: true, fit };
  return EXPLAINED.includes(reason) ? { ok: false, reason, unusable: fit } : { ok: false, reason, torn: fit };
}

/** What makes a picture useless before anything is fitted, or null. */
function sightRefusal({ card, outline, reference, focalPrior, ...image }: PhotoSight): ProblemCode | null {
  const points = [...outline.points, ...(card.rim?.points ?? [])];
  const values = [...card.cornersPx.flat(), ...points.flatMap((p) => [p.xPx, p.yPx, p.normalX, p.normalY, p.sdPx])];
  if (!values.every(Number.isFinite) || !points.every((p) => p.sdPx > 0)) return 'fit-failed';
  if (!(focalPrior.focalPx > 1 && Number.isFinite(focalPrior.focalPx) && focalPrior.relativeSd > 0))
    return 'fit-failed';
  if (outline.points.length < SMALLEST_OUTLINE) return 'no-container';
  if (outline.cutByFrame) return 'container-cut-off';
  const { cornersPx, longSide } = card;
  const sides = cornersPx.map(([x, y], k) => {
    const [nx, ny] = cornersPx[(k + 1) % 4];
    return Math.hypot(nx - x, ny - y);
  });
  const isRound = card.rim !== undefined;
  if (Math.max(...sides) < (isRound ? SMALLEST_ROUND_PX : SMALLEST_CARD_PX)) {
    return isRound ? 'round-too-small' : 'card-too-small';
  }
  const camera = {
    focalPx: focalPrior.focalPx,
    centreXPx: (image.imageWidthPx - 1) / 2,
    centreYPx: (image.imageHeightPx - 1) / 2,
    k1: 0,
  };
  const poses = cardPoses(cornersPx, longSide, reference, camera);
  return poses.some((pose) => cardTiltRad(pose.rotation, pose.translationMm) < MOST_TILTED_CARD_RAD)
    ? null
    : isRound
      ? 'round-too-oblique'
      : 'card-too-oblique';
}

interface Attempt {
  readonly seen: Observations;
  readonly frame: ModelFrame;
  readonly parameters: Float64Array;
}

/** A solution of the model, not yet with its covariance. */
export interface Solved {
  readonly model: ContainerModel;
  readonly solution: LeastSquaresFit;
}

interface Found {
  readonly best: Solved;
  readonly rivals: readonly Solved[];
}

function solve(
  { seen, frame, parameters }: Attempt,
  { rounds, relativeTolerance }: { readonly rounds: number; readonly relativeTolerance: number },
): Solved | null {
  const model = new ContainerModel(seen, frame);
  const solution = leastSquares(model, parameters, {
    maxIterations: rounds,
    relativeTolerance,
    damping: 1e-4,
  });
  return solution && { model, solution };
}

/** Everything the model is fitted to, thinned to a number of samples that the fit can digest. */
function observe(sight: PhotoSight, arrangement: Arrangement): Observations {
  const outline = everyNth(sight.outline.points, FULL_OUTLINE_POINTS);
  const spacing = medianSpacing(outline);
  const correlation = Math.max(sight.outline.correlationLengthPx, 1e-6);
  const sds = outline.map((p) => p.sdPx).sort((a, b) => a - b);
  return {
    sides: sight.card.rim ? [] : [0, 1, 2, 3].map((k) => sideSamples(sight.card, k)),
    rim: everyNth(sight.card.rim?.points ?? [], RIM_SAMPLES),
    rimHaloSdPx: sight.card.rim?.haloSdPx ?? 0,
    longSide: sight.card.longSide,
    outline,
    // samples nearer than the correlation length repeat each other: ∑ of an exponential autocorrelation
    outlineSdFactor: Math.sqrt(1 / Math.tanh(spacing / correlation)),
    outlineHaloSdPx: 0.3 * sds[sds.length >> 1],
    hand: sight.hand ?? [],
    focalPrior: sight.focalPrior,
    centrePx: [(sight.imageWidthPx - 1) / 2, (sight.imageHeightPx - 1) / 2],
    centreSdPx: principalPointSdPx(sight.imageWidthPx, sight.imageHeightPx, sight.looksCropped),
    reference: sight.reference,
    arrangement,
    lowerSide: null,
    standsAt: standingGap(sight.raisedChance ?? 0),
  };
}

function sideSamples(card: CardSighting, k: number): SideSamples {
  const side: CardSide = card.sides[k];
  const [x0, y0] = card.cornersPx[k];
  const [x1, y1] = card.cornersPx[(k + 1) % 4];
  const length = Math.hypot(x1 - x0, y1 - y0);
  const pointsPx =
    side.edgePointsPx.length >= 2
      ? everyNth(side.edgePointsPx, SIDE_SAMPLES)
      : [0.1, 0.37, 0.63, 0.9].map((s) => [x0 + s * (x1 - x0), y0 + s * (y1 - y0)] as const);
  return {
    pointsPx,
    // corners run clockwise as seen, so the outside is on the left of the way
    normal: [(y1 - y0) / length, -(x1 - x0) / length],
    sdPx: side.sdPx * Math.sqrt(pointsPx.length),
    haloSdPx: 0.5 * side.sdPx,
  };
}

function bestOfStarts(seen: Observations, sight: PhotoSight, baseNearPx: ImagePoint | undefined): Found | null {
  const quick: Observations = {
    ...seen,
    outline: everyNth(seen.outline, QUICK_OUTLINE_POINTS),
    outlineSdFactor: seen.outlineSdFactor * 2,
  };
  const withHeldRim: Observations = { ...quick, rim: sharpened(seen.rim) };
  const ranked = startingValues(quick, sight.card.cornersPx)
    .map((values) => {
      const attempt = attemptFrom(values, values.isHeld ? withHeldRim : quick, QUICK_KNOTS);
      const model = new ContainerModel(attempt.seen, attempt.frame);
      const residuals = new Float64Array(model.residualCount);
      const usable = model.evaluate(attempt.parameters, residuals, null);
      const cost = usable ? residuals.reduce((sum, r) => sum + Math.log1p(r * r), 0) : Number.POSITIVE_INFINITY;
      return { attempt, cost, pose: values.pose, isHeld: values.isHeld };
    })
    .filter(({ cost }) => Number.isFinite(cost))
    .sort((a, b) => a.cost - b.cost);
  const isRound = seen.rim.length > 0;
  // a card's perspective tells its poses and the lens apart, a circle's hardly: the container has to
  const tried = isRound
    ? ranked.filter(({ pose }, k) => ranked.slice(0, k).filter((better) => better.pose === pose).length < STARTS_A_POSE)
    : ranked.slice(0, STARTS_TO_TRY);
  // a rim that holds its pose costs more: χ² with and without cannot be compared
  const [held, free] = [true, false].map((isHeld) =>
    distinct(
      tried
        .filter((start) => start.isHeld === isHeld)
        .map(({ attempt }) => solve(attempt, QUICKLY))
        .filter((solved) => solved !== null)
        .sort((a, b) => a.solution.cost - b.solution.cost),
    ),
  );
  const candidates = [...held, ...free.slice(0, 1)];
  const samples = quick.outline.length + quick.rim.length;
  if (candidates.length === 0 || candidates[0].solution.cost > HOPELESS_COST * samples) return null;
  const carved: Solved[] = [];
  for (const [k, rough] of candidates.entries()) {
    const placed =
      seen.arrangement !== 'lying'
        ? rough
        : baseNearPx
          ? withBaseNear(rough, baseNearPx)
          : baseFirst(rough, seen.outline);
    const full = { ...seen, lowerSide: rough.model.seen.lowerSide };
    const solved = carveAndSolve(withKnots(placed, full, evenShares(KNOTS)));
    if (solved) carved.push(solved);
    const next = candidates[k + 1];
    const nextIsClose = next && next.solution.cost < CLOSE_QUICK_COST * candidates[0].solution.cost;
    const nextCounts = nextIsClose || isRound || (seen.arrangement === 'card-leaning' && k === 0);
    if (!nextCounts && carved.some(isConvincing)) break;
  }
  carved.sort((a, b) => a.solution.cost - b.solution.cost);
  if (carved.length > 0) carved.push(...mirrorImages(carved[0]));
  carved.sort((a, b) => a.solution.cost - b.solution.cost);
  const [best, ...others] = carved;
  return best ? { best, rivals: rivalsOf(best, others) } : null;
}

/** A container that goes roughly with card and outline, to be drawn and put right by hand; null when nothing does. */
export function guessedSolid(sight: PhotoSight, arrangement: Arrangement): SolidInView | null {
  if (sight.outline.points.length < SMALLEST_OUTLINE) return null;
  const seen = observe(sight, arrangement);
  const quick: Observations = { ...seen, outline: everyNth(seen.outline, QUICK_OUTLINE_POINTS) };
  let best: { readonly solid: SolidInView; readonly cost: number } | null = null;
  for (const values of startingValues(quick, sight.card.cornersPx)) {
    const { frame, parameters, ...attempt } = attemptFrom(values, quick, QUICK_KNOTS);
    const model = new ContainerModel(attempt.seen, frame);
    const residuals = new Float64Array(model.residualCount);
    if (!model.evaluate(parameters, residuals, null)) continue;
    const cost = residuals.reduce((sum, r) => sum + Math.log1p(r * r), 0);
    const state = model.stateAt(parameters);
    if (state && (!best || cost < best.cost)) best = { solid: solidOf(state, model.curve), cost };
  }
  return best?.solid ?? null;
}

/** The other solutions that have to be reckoned with, one of every size, best first. */
function rivalsOf(best: Solved, others: readonly Solved[]): readonly Solved[] {
  const isOtherSize = (a: Solved, b: Solved) =>
    Math.abs(a.solution.parameters[LOG_HEIGHT] - b.solution.parameters[LOG_HEIGHT]) > SAME_SIZE;
  return others
    .filter((other) => costAbove(best.solution.cost, other) < RIVAL_COST)
    .filter((other, k, close) => [best, ...close.slice(0, k)].every((better) => isOtherSize(other, better)));
}

/** Whether a solution explains the outline without stretching what is known beforehand. */
function isConvincing(solved: Solved): boolean {
  const { model, solution } = solved;
  return solution.cost < CONVINCING_COST * model.seen.outline.length && stretchOf(solved) < CONVINCING_STRETCH;
}

/** What the mirrored starts of a solution lead to, carved anew where that may be as good. */
function mirrorImages(solved: Solved): readonly Solved[] {
  const { cost } = solved.solution;
  const carvedIfBelow = (attempts: readonly (Attempt | null)[], limit: number) =>
    attempts
      .map((attempt) => attempt && solve(attempt, QUICKLY))
      .filter((other) => other !== null)
      .map((other) => (other.solution.cost < limit ? (carveAndSolve(attemptOf(other)) ?? other) : other));
  return [
    ...carvedIfBelow(seenFromBeyondAnEnd(solved), cost),
    ...carvedIfBelow(onMirroredTable(solved), cost + UNCARVED_COST),
  ];
}

/** The same container on a table that leans the other way: what a coin cannot tell apart, and a container not always. */
function onMirroredTable({ model, solution }: Solved): readonly (Attempt | null)[] {
  const { seen, frame } = model;
  const state = seen.rim.length > 0 && model.stateAt(solution.parameters);
  const mirrored = state && mirroredPose(state);
  if (!mirrored) return [];
  const parameters = Float64Array.from(solution.parameters);
  parameters.fill(0, CARD_TURN, CARD_TURN + 3);
  const placed = solve(
    { seen: { ...seen, rim: sharpened(seen.rim) }, frame: { ...frame, cardRotation: mirrored.rotation }, parameters },
    QUICKLY,
  );
  return [placed && { ...attemptOf(placed), seen }];
}

/** A rim that holds a pose while the container is still out of place, lest the pose slides over into the other one. */
function sharpened(rim: readonly OutlinePoint[]): readonly OutlinePoint[] {
  return rim.map((point) => ({ ...point, sdPx: point.sdPx / HOLDING }));
}

/**
 * An end disc looks the same from a little above and a little below its plane: the near half of its rim is then the
 * outline, or the far half. The same container turned so that the eye is on the other side of the plane, for each end
 * that the eye is near to.
 */
function seenFromBeyondAnEnd({ model, solution }: Solved): readonly Attempt[] {
  const state = model.stateAt(solution.parameters);
  if (!state) return [];
  const [x, y, z] = eyeInContainer(state);
  const away = Math.hypot(x, y);
  return [0, state.heightMm].flatMap((endMm) => {
    const angle = 2 * Math.atan2(z - endMm, away);
    if (Math.abs(angle) > LARGEST_MIRRORING_RAD) return [];
    const turn = rotationFromVector([(angle * y) / away, (-angle * x) / away, 0]);
    const containerRotation = multiplyMatrices(state.containerRotation, turn);
    const parameters = Float64Array.from(solution.parameters);
    const end = add(state.baseCentreMm, scale(state.axis, endMm));
    parameters.set(subtract(end, scale(axisOf(containerRotation), endMm)), BASE_CENTRE);
    parameters.fill(0, AXIS_TURN, AXIS_TURN + 2);
    return [{ seen: model.seen, frame: { ...model.frame, containerRotation }, parameters }];
  });
}

/** Solutions that differ in focal length, height or direction of the axis from all better ones, at most a few. */
function distinct(ranked: readonly Solved[]): readonly Solved[] {
  const kept: Solved[] = [];
  for (const candidate of ranked) {
    const p = candidate.solution.parameters;
    const axis = candidate.model.stateAt(p)?.axis;
    const isNew = kept.every(({ model, solution: { parameters: q } }) => {
      const other = model.stateAt(q)?.axis;
      return (
        [LOG_FOCAL, LOG_HEIGHT].some((i) => Math.abs(p[i] - q[i]) > 0.005) ||
        (axis && other && norm(subtract(axis, other)) > 0.01)
      );
    });
    if (isNew) kept.push(candidate);
  }
  return kept.slice(0, SOLUTIONS_TO_CARVE);
}

/** Of a container on its side either end may have been taken for the base: turns it round when its shape says so. */
function baseFirst(solved: Solved, outline: readonly OutlinePoint[]): Solved {
  const state = solved.model.stateAt(solved.solution.parameters);
  if (!state) return solved;
  return topComesFirst(carveProfile(outline, state, evenShares(SHAPE_STEPS)).radiiMm)
    ? turnedRound(solved, state)
    : solved;
}

/** The same solid with its base at the end nearer to an image point. */
function withBaseNear(solved: Solved, baseNearPx: ImagePoint | undefined): Solved {
  const state = baseNearPx && solved.model.stateAt(solved.solution.parameters);
  if (!state) return solved;
  const awayPx = (zMm: number) => {
    const [xPx, yPx] = projectPoint(state.camera, ...cameraPoint(state, [0, 0, zMm]));
    return Math.hypot(xPx - baseNearPx[0], yPx - baseNearPx[1]);
  };
  return awayPx(state.heightMm) < awayPx(0) ? turnedRound(solved, state) : solved;
}

/** The same solid with base and top changed over. */
function turnedRound({ model, solution }: Solved, state: ModelState): Solved {
  const { frame } = model;
  const mirrored = (shares: Float64Array) => shares.map((share) => 1 - share).reverse();
  const turned: ModelFrame = {
    ...frame,
    containerRotation: rotationToAxis(scale(state.axis, -1)),
    knots: { knotShares: mirrored(frame.knots.knotShares), edgeShares: mirrored(frame.knots.edgeShares) },
    unseenKnots: [...frame.unseenKnots].reverse(),
  };
  const parameters = Float64Array.from(solution.parameters);
  parameters.set(add(state.baseCentreMm, scale(state.axis, state.heightMm)), BASE_CENTRE);
  parameters.fill(0, AXIS_TURN, AXIS_TURN + 2);
  parameters[LOG_BASE_EDGE] = solution.parameters[LOG_TOP_EDGE];
  parameters[LOG_TOP_EDGE] = solution.parameters[LOG_BASE_EDGE];
  const edges = WALL + frame.knots.knotShares.length;
  parameters.subarray(WALL, edges).reverse();
  const shifts = parameters.subarray(edges).reverse();
  for (let k = 0; k < shifts.length; k += 1) shifts[k] = -shifts[k];
  return { model: new ContainerModel(model.seen, turned), solution: { ...solution, parameters } };
}

function attemptFrom(values: StartingValues, seen: Observations, knots: number): Attempt {
  const frame: ModelFrame = {
    cardRotation: values.pose.rotation,
    containerRotation: rotationToAxis(values.axis),
    knots: { knotShares: evenShares(knots), edgeShares: new Float64Array(0) },
    unseenKnots: [],
  };
  const parameters = new Float64Array(WALL + knots);
  parameters[LOG_FOCAL] = Math.log(values.camera.focalPx);
  parameters.set(values.pose.translationMm, CARD_SHIFT);
  parameters.set(values.baseCentreMm, BASE_CENTRE);
  parameters[LOG_HEIGHT] = Math.log(values.heightMm);
  parameters[LOG_BASE_EDGE] = Math.log(Math.min(2.5, 0.1 * values.heightMm));
  parameters[LOG_TOP_EDGE] = Math.log(Math.min(1.5, 0.1 * values.heightMm));
  parameters.set(resampled(values.radiiMm, frame.knots.knotShares), WALL);
  const placed = { ...seen, lowerSide: values.lowerSide };
  const state = new ContainerModel(placed, frame).stateAt(parameters);
  const unseenKnots = state ? unseenWithNeighbours(carveProfile(seen.outline, state, frame.knots.knotShares).seen) : [];
  return { seen: placed, frame: { ...frame, unseenKnots }, parameters };
}

/** The same container with another number of knots and the full set of samples. */
function withKnots({ model, solution }: Solved, seen: Observations, knotShares: Float64Array): Attempt {
  const parameters = new Float64Array(WALL + knotShares.length);
  parameters.set(solution.parameters.subarray(0, WALL));
  const state = model.stateAt(solution.parameters);
  const height = Math.exp(parameters[LOG_HEIGHT]);
  parameters.set(
    knotShares.map((share) => wallAt(model, solution.parameters, share * height)),
    WALL,
  );
  const unseenKnots = state ? unseenWithNeighbours(carveProfile(seen.outline, state, knotShares).seen) : [];
  const frame: ModelFrame = { ...model.frame, knots: { knotShares, edgeShares: new Float64Array(0) }, unseenKnots };
  return { seen, frame, parameters };
}

/**
 * Fits in turn with carving: with the camera and the axis known better, the visual hull shows better where the edges
 * are, which least squares alone cannot move from knot to knot.
 */
function carveAndSolve(first: Attempt): Solved | null {
  let best: Solved | null = null;
  let parameters: Float64Array = first.parameters;
  let model = new ContainerModel(first.seen, first.frame);
  for (let round = 0; round < CARVINGS; round++) {
    const carved = carvedAttempt(model, parameters, first.seen);
    const solved = carved && solve(carved, QUICKLY);
    if (!solved) break;
    const gain = best ? best.solution.cost - solved.solution.cost : Number.POSITIVE_INFINITY;
    if (gain > 0) best = solved;
    if (gain < 0.02 * solved.solution.cost) break;
    model = solved.model;
    parameters = solved.solution.parameters;
  }
  const edged = best && solve(attemptOf(best), FINELY);
  if (edged && edged.solution.cost < CONVINCING_COST * first.seen.outline.length) return edged;
  const plain = solve(first, FINELY);
  return edged && !(plain && plain.solution.cost < edged.solution.cost) ? edged : plain;
}

function attemptOf({ model, solution }: Solved): Attempt {
  return { seen: model.seen, frame: model.frame, parameters: solution.parameters };
}

function carvedAttempt(model: ContainerModel, parameters: Float64Array, seen: Observations): Attempt | null {
  const state = model.stateAt(parameters);
  if (!state) return null;
  const even = evenShares(KNOTS);
  const coarse = carveProfile(seen.outline, state, even).radiiMm;
  const knotShares = sharesAtEdges(even, coarse, state.heightMm);
  const edgeShares = movableEdges(even, coarse, state.heightMm);
  const carved = new Float64Array(WALL + knotShares.length + edgeShares.length);
  carved.set(parameters.subarray(0, WALL));
  const profile = carveProfile(seen.outline, state, knotShares);
  carved.set(profile.radiiMm, WALL);
  const unseenKnots = unseenWithNeighbours(profile.seen);
  const frame: ModelFrame = { ...model.frame, knots: { knotShares, edgeShares }, unseenKnots };
  return { seen, frame, parameters: carved };
}

/** Also the neighbours of unseen knots, lest the wall bends just where sight of it is lost. */
function unseenWithNeighbours(seen: readonly boolean[]): readonly boolean[] {
  return seen.map((_, k) => seen.slice(Math.max(k - 2, 0), k + 3).includes(false));
}

/** Knots with more of them where the wall bends so sharply that an edge may lie between two knots. */
function sharesAtEdges(shares: Float64Array, wall: Float64Array, heightMm: number): Float64Array {
  const pieces = new Array<number>(shares.length - 1).fill(1);
  for (let i = 1; i + 1 < shares.length; i++) {
    const offMm = edgeMisplacementMm(shares, wall, i);
    const wanted = offMm > SHARP_BEND_MM ? Math.min(1 + Math.ceil(offMm / SHARP_BEND_MM), EDGE_PIECES) : 1;
    pieces[i - 1] = Math.max(pieces[i - 1], wanted);
    pieces[i] = Math.max(pieces[i], wanted);
  }
  const refined: number[] = [0];
  const smallest = SMALLEST_SPACING_MM / heightMm;
  pieces.forEach((count, i) => {
    const fitting = Math.max(1, Math.min(count, Math.floor((shares[i + 1] - shares[i]) / smallest)));
    for (let k = 1; k <= fitting; k++) refined.push(shares[i] + ((shares[i + 1] - shares[i]) * k) / fitting);
  });
  return Float64Array.from(refined);
}

/** How far the wall would be off at knot i if an edge there were half a knot away, mm. */
function edgeMisplacementMm(shares: Float64Array, wall: Float64Array, i: number): number {
  const slope = (k: number) => (wall[k + 1] - wall[k]) / (shares[k + 1] - shares[k]);
  return (Math.abs(slope(i) - slope(i - 1)) * (shares[i + 1] - shares[i - 1])) / 4;
}

/** Places of the sharpest bends, one for each stretch of bends. */
function movableEdges(shares: Float64Array, wall: Float64Array, heightMm: number): Float64Array {
  const bends = Array.from({ length: shares.length - 2 }, (_, k) => ({
    share: shares[k + 1],
    offMm: edgeMisplacementMm(shares, wall, k + 1),
  }))
    .filter(({ offMm }) => offMm > SHARP_BEND_MM)
    .sort((a, b) => b.offMm - a.offMm);
  const apart = Math.max(EDGES_APART_MM / heightMm, 0.03);
  const edges: number[] = [];
  for (const { share } of bends) {
    const free = edges.every((other) => Math.abs(other - share) > apart) && share > apart / 2 && share < 1 - apart / 2;
    if (free && edges.length < MOST_EDGES) edges.push(share);
  }
  return Float64Array.from(edges.sort((a, b) => a - b));
}

/**
 * Goes on from a fit of nearly the same picture; null when that leads nowhere good, unless it is to be followed. Rivals are
 * solved anew as well: their χ² on another outline says nothing beside the best one's on this.
 */
function refit(
  start: Pick<ContainerFit, 'model' | 'solution' | 'rivals'>,
  seen: Observations,
  following = false,
): Found | null {
  const again = ({ model, solution }: Solved) =>
    solve(
      { seen: { ...seen, lowerSide: model.seen.lowerSide }, frame: model.frame, parameters: solution.parameters },
      FINELY,
    );
  const first = again(start);
  if (!first) return null;
  const [best, ...others] = [first, ...start.rivals.map(again).filter((other) => other !== null)].sort(
    (a, b) => a.solution.cost - b.solution.cost,
  );
  return following || isConvincing(best) ? { best, rivals: rivalsOf(best, others) } : null;
}

/** Root mean square of the outline's residuals in sds, outliers left out of it, never below 1. */
function outlineMisfit({ model, solution }: Solved): number {
  const { outlineRow, equationRow } = model;
  let squares = 0;
  let count = 0;
  for (let row = outlineRow; row < equationRow; row++) {
    squares += solution.weights[row] * solution.residuals[row] ** 2;
    count += solution.weights[row];
  }
  const fitted = model.frame.knots.knotShares.length / 3;
  return Math.sqrt(Math.max(1, squares / Math.max(count - fitted, 1)));
}

/** Σ over card and outline rows of the share of the row's information that the fit used up. */
function effectiveParameters(model: ContainerModel, solution: LeastSquaresFit, covariance: Float64Array): number {
  const n = model.parameterCount;
  const columns = new Int32Array(n);
  let used = 0;
  for (let row = 0; row < model.equationRow; row++) {
    let count = 0;
    for (let j = 0; j < n; j++) if (solution.jacobian[row * n + j] !== 0) columns[count++] = j;
    let sum = 0;
    for (let a = 0; a < count; a++) {
      const ja = solution.jacobian[row * n + columns[a]];
      for (let b = 0; b < count; b++)
        sum += ja * covariance[columns[a] * n + columns[b]] * solution.jacobian[row * n + columns[b]];
    }
    used += solution.weights[row] * sum;
  }
  return used;
}

/** A right-handed frame (columns) whose third direction is the axis. */
function rotationToAxis(axis: Vector3): number[] {
  const x = anyPerpendicular(axis);
  const y = cross(axis, x);
  return [x[0], y[0], axis[0], x[1], y[1], axis[1], x[2], y[2], axis[2]];
}

function evenShares(knots: number): Float64Array {
  return Float64Array.from({ length: knots }, (_, i) => i / (knots - 1));
}

function resampled(values: ArrayLike<number>, shares: Float64Array): Float64Array {
  return shares.map((share) => {
    const at = share * (values.length - 1);
    const i = Math.min(Math.floor(at), values.length - 2);
    return values[i] + (at - i) * (values[i + 1] - values[i]);
  });
}

function everyNth<T>(points: readonly T[], atMost: number): readonly T[] {
  if (points.length <= atMost) return points;
  return Array.from({ length: atMost }, (_, i) => points[Math.round((i * (points.length - 1)) / (atMost - 1))]);
}

function medianSpacing(points: readonly OutlinePoint[]): number {
  const gaps = points.map((p, i) => {
    const next = points[(i + 1) % points.length];
    return Math.hypot(next.xPx - p.xPx, next.yPx - p.yPx);
  });
  gaps.sort((a, b) => a - b);
  return gaps[gaps.length >> 1];
}
