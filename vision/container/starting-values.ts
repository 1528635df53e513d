import { type Camera, castRay, RAY_SIZE } from '../geometry/camera-ray.ts';
import { type CardPose, cardPoses, focalFromCard } from '../geometry/card-pose.ts';
import { circlePoses, facingPose } from '../geometry/circle-pose.ts';
import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import {
  add,
  anyPerpendicular,
  cross,
  dot,
  multiplyTransposed,
  scale,
  subtract,
  type Vector3,
} from '../geometry/linear3.ts';
import type { Arrangement } from '../measurement.ts';
import type { LowerSide } from './arrangement-equations.ts';
import type { Observations } from './container-model.ts';

/** A rough answer to start the fit from. */
export interface StartingValues {
  readonly camera: Camera;
  readonly pose: CardPose;
  /** Beside a coin: the rim speaks for this pose, which the container is to be fitted to before it moves. */
  readonly isHeld: boolean;
  readonly lowerSide: LowerSide | null;
  readonly baseCentreMm: Vector3;
  readonly axis: Vector3;
  readonly heightMm: number;
  /** Radius at equal steps from base to top, mm. */
  readonly radiiMm: readonly number[];
}

const PROFILE_STEPS = 40;
const LEANS_RAD = [6, 14, 24].map((degrees) => (degrees * Math.PI) / 180);
/** A handle takes about this share of the outline. */
const HANDLE_TRIM = 0.13;
/** 35 mm-equivalents to start from when nothing is known, as shares of the prior's focal length. */
const FOCAL_STARTS = [0.87, 1.65];

/**
 * Starting values from closed forms: card pose from its corners, axis from the angular extent of the outline about the
 * axis direction that the arrangement implies, profile from the rays' distances to that axis.
 * Both card poses, and for a leaning card several leans, are tried; the fit chooses.
 */
export function startingValues(seen: Observations, cornersPx: CornersPx): readonly StartingValues[] {
  const starts: StartingValues[] = [];
  const rimPx = seen.rim.map(({ xPx, yPx }): ImagePoint => [xPx, yPx]);
  for (const focalPx of focalStarts(seen, cornersPx)) {
    const camera: Camera = { focalPx, centreXPx: seen.centrePx[0], centreYPx: seen.centrePx[1], k1: 0 };
    const seenPoses =
      seen.rim.length > 0
        ? circlePoses(rimPx, seen.reference.widthMm / 2, camera)
        : cardPoses(cornersPx, seen.longSide, seen.reference, camera);
    const facing = seen.rim.length > 0 && seenPoses.length > 0 ? facingPose(seenPoses[0]) : null;
    for (const pose of facing ? [...seenPoses, facing] : seenPoses) {
      const view = viewFromCard(seen, camera, pose);
      if (!view) continue;
      for (const guess of axisGuesses(seen, view)) {
        const shape = shapeAbout(guess, view);
        if (shape) starts.push({ camera, pose, isHeld: pose !== facing, lowerSide: guess.lowerSide, ...shape });
      }
    }
  }
  return starts;
}

/** Eye and outline rays in the card frame. */
interface View {
  readonly eye: Vector3;
  readonly rays: readonly Vector3[];
  readonly imageDown: Vector3;
}

interface AxisGuess {
  /** A point of the axis; the base centre when `baseKnown`. */
  readonly through: Vector3;
  readonly axis: Vector3;
  readonly baseKnown: boolean;
  readonly lowerSide: LowerSide | null;
}

function focalStarts(seen: Observations, cornersPx: CornersPx): readonly number[] {
  const { focalPx, relativeSd } = seen.focalPrior;
  if (relativeSd < 0.1) return [focalPx];
  const fromCard =
    seen.rim.length > 0
      ? null
      : focalFromCard(cornersPx, seen.longSide, seen.reference, seen.centrePx[0], seen.centrePx[1]);
  const starts = FOCAL_STARTS.map((share) => share * focalPx);
  if (fromCard && Math.abs(Math.log(fromCard / focalPx)) < 2.5 * relativeSd) {
    if (starts.every((f) => Math.abs(Math.log(f / fromCard)) > 0.12)) starts.unshift(fromCard);
  }
  return starts;
}

function viewFromCard(seen: Observations, camera: Camera, pose: CardPose): View | null {
  const ray = new Float64Array(RAY_SIZE);
  const rays: Vector3[] = [];
  for (const point of [...seen.outline, ...seen.hand]) {
    if (!castRay(camera, point.xPx, point.yPx, ray)) return null;
    rays.push(multiplyTransposed(pose.rotation, [ray[0], ray[1], 1]));
  }
  return {
    eye: scale(multiplyTransposed(pose.rotation, pose.translationMm), -1),
    rays,
    imageDown: multiplyTransposed(pose.rotation, [0, 1, 0]),
  };
}

function axisGuesses(seen: Observations, view: View): readonly AxisGuess[] {
  const arrangement: Arrangement = seen.arrangement;
  const thickness = seen.reference.thicknessMm;
  if (arrangement === 'standing') return standingGuesses(view, thickness);
  if (arrangement === 'lying') return parallelGuesses(view, 1, thickness);
  if (arrangement === 'card-on-front') return parallelGuesses(view, -1, thickness);
  return leaningGuesses(seen, view);
}

/**
 * Axis along the table's normal; distance from the nearest ray that meets the table in the middle of the body, for wide
 * and narrow feet, and nearer in case the foot is hidden.
 */
function standingGuesses(view: View, thicknessMm: number): AxisGuess[] {
  const axis: Vector3 = [0, 0, 1];
  const table = -thicknessMm;
  const guesses: AxisGuess[] = [];
  for (const trim of [0, HANDLE_TRIM]) {
    const extent = angularExtent(view, axis, trim);
    const front = extent && nearestOnTable(view, table, extent);
    if (!extent || !front) continue;
    for (const [footShare, nearer] of [
      [0.95, 1],
      [0.65, 1],
      [0.95, 0.8],
      [0.95, 0.65],
    ]) {
      const distance = (nearer * front) / (1 - footShare * Math.sin(extent.halfAngle));
      const x = view.eye[0] + distance * extent.toAxis[0];
      const y = view.eye[1] + distance * extent.toAxis[1];
      guesses.push({ through: [x, y, table], axis, baseKnown: true, lowerSide: null });
    }
  }
  return guesses;
}

/** Distance along the table from the eye's foot to where the middle of the body's outline first meets the table. */
function nearestOnTable(view: View, table: number, extent: AngularExtent): number | null {
  let front = Number.POSITIVE_INFINITY;
  for (const ray of view.rays) {
    const t = (table - view.eye[2]) / ray[2];
    if (t <= 0) continue;
    const across = Math.hypot(ray[0], ray[1]);
    if ((ray[0] * extent.toAxis[0] + ray[1] * extent.toAxis[1]) / across < Math.cos(0.4 * extent.halfAngle)) continue;
    front = Math.min(front, t * across);
  }
  return Number.isFinite(front) ? front : null;
}

/**
 * Axis parallel to the card plane, one radius in front of its hidden face (towards = 1) or behind it (−1). The radius
 * follows from the width of the outline in the plane of the axis, in a few rounds; seen aslant, a squat body looks
 * wider than it is, so a lower axis is tried as well.
 */
function parallelGuesses(view: View, towards: 1 | -1, thicknessMm: number): AxisGuess[] {
  let radius = 0;
  for (const start of [30, 0, 0, 0]) {
    const height = towards * (radius || start) - thicknessMm;
    const points = pointsAtHeight(view, height);
    if (!points) return [];
    const { across, middle, width } = narrowestDirection(points);
    const eyeAcross = view.eye[0] * across[0] + view.eye[1] * across[1] - middle;
    const distance = Math.max(Math.hypot(view.eye[2] - height, eyeAcross), 1);
    const seen = distance * Math.sin(Math.atan(width / 2 / distance));
    radius = radius ? 0.5 * (radius + seen) : seen;
  }
  return [1, 0.78].flatMap((share) => guessesAtHeight(view, towards * share * radius - thicknessMm));
}

/** The axis along the outline in the plane of the axis, and across it too when it is about as wide as long. */
function guessesAtHeight(view: View, height: number): AxisGuess[] {
  const points = pointsAtHeight(view, height);
  if (!points) return [];
  const narrow = narrowestDirection(points);
  const extents = [narrow];
  if (narrow.length < 1.5 * narrow.width) extents.push(measureAcross(points, [-narrow.across[1], narrow.across[0]]));
  return extents.map(({ across, middle }) => {
    const along: Vector3 = [-across[1], across[0], 0];
    return {
      through: [across[0] * middle, across[1] * middle, height],
      axis: dot(along, view.imageDown) > 0 ? scale(along, -1) : along,
      baseKnown: false,
      lowerSide: null,
    };
  });
}

/** Where the outline's rays meet the plane z = height of the card frame; null when many do not. */
function pointsAtHeight(view: View, height: number): [number, number][] | null {
  const points: [number, number][] = [];
  for (const ray of view.rays) {
    const t = (height - view.eye[2]) / ray[2];
    if (t > 0) points.push([view.eye[0] + t * ray[0], view.eye[1] + t * ray[1]]);
  }
  return points.length >= Math.max(0.9 * view.rays.length, 8) ? points : null;
}

/** Card's lower edge on the table; the container stands behind it and touches the hidden face near the card's top. */
function leaningGuesses(seen: Observations, view: View): AxisGuess[] {
  const { reference } = seen;
  const guesses: AxisGuess[] = [];
  const sides: LowerSide[] = [
    [0, -1],
    [0, 1],
    [-1, 0],
    [1, 0],
  ];
  for (const side of sides) {
    const out: Vector3 = [side[0], side[1], 0];
    if (dot(out, view.imageDown) < 0.6) continue;
    const cardHeight = side[0] === 0 ? reference.heightMm : reference.widthMm;
    const edge: Vector3 = [(side[0] * cardHeight) / 2, (side[1] * cardHeight) / 2, -reference.thicknessMm];
    for (const lean of LEANS_RAD) {
      const axis: Vector3 = [-side[0] * Math.cos(lean), -side[1] * Math.cos(lean), Math.sin(lean)];
      const behind: Vector3 = [-side[0] * Math.sin(lean), -side[1] * Math.sin(lean), -Math.cos(lean)];
      const extent = angularExtent(view, axis);
      if (!extent) continue;
      // foot of the axis = eye's foot + distance · toAxis; its distance from the card's plane is the radius
      const eyeBehind = dot(subtract(view.eye, edge), behind);
      const rise = cardHeight * Math.sin(lean);
      const distance =
        (rise - eyeBehind * Math.cos(lean)) /
        (dot(extent.toAxis, behind) * Math.cos(lean) - Math.sin(extent.halfAngle));
      if (!(distance > 20 && distance < 5000)) continue;
      const eyeHeight = dot(subtract(view.eye, edge), axis);
      guesses.push({
        through: add(subtract(view.eye, scale(axis, eyeHeight)), scale(extent.toAxis, distance)),
        axis,
        baseKnown: true,
        lowerSide: side,
      });
    }
  }
  return guesses;
}

interface AngularExtent {
  /** Unit vector towards the axis, at right angles to it. */
  readonly toAxis: Vector3;
  /** Half the angle the body fills. */
  readonly halfAngle: number;
}

/** Directions of the outline about an axis; a share of the outermost rays on either side may be left out. */
function angularExtent(view: View, axis: Vector3, trim = 0): AngularExtent | null {
  const right = anyPerpendicular(axis);
  const ahead = cross(axis, right);
  let sumRight = 0;
  let sumAhead = 0;
  for (const ray of view.rays) {
    const x = dot(ray, right);
    const y = dot(ray, ahead);
    const size = Math.hypot(x, y);
    sumRight += x / size;
    sumAhead += y / size;
  }
  const mean = Math.atan2(sumAhead, sumRight);
  const angles = view.rays
    .map((ray) => {
      const angle = Math.atan2(dot(ray, ahead), dot(ray, right)) - mean;
      return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
    })
    .sort((a, b) => a - b);
  const skip = Math.floor(trim * angles.length);
  const low = angles[skip];
  const high = angles[angles.length - 1 - skip];
  const halfAngle = (high - low) / 2;
  if (!(halfAngle > 0.003 && halfAngle < 1.4)) return null;
  const middle = mean + (low + high) / 2;
  return { toAxis: add(scale(right, Math.cos(middle)), scale(ahead, Math.sin(middle))), halfAngle };
}

interface Extent {
  readonly across: readonly [number, number];
  readonly middle: number;
  readonly width: number;
  /** Extent at right angles to `across`. */
  readonly length: number;
}

function narrowestDirection(points: readonly (readonly [number, number])[]): Extent {
  const turns = 90;
  let best = measureAcross(points, [1, 0]);
  for (let i = 1; i < turns; i++) {
    const angle = (i / turns) * Math.PI;
    const extent = measureAcross(points, [Math.cos(angle), Math.sin(angle)]);
    if (extent.width < best.width) best = extent;
  }
  return best;
}

function measureAcross(points: readonly (readonly [number, number])[], across: readonly [number, number]): Extent {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let back = Number.POSITIVE_INFINITY;
  let ahead = Number.NEGATIVE_INFINITY;
  for (const [x, y] of points) {
    const c = x * across[0] + y * across[1];
    const l = y * across[0] - x * across[1];
    low = Math.min(low, c);
    high = Math.max(high, c);
    back = Math.min(back, l);
    ahead = Math.max(ahead, l);
  }
  return { across, middle: (low + high) / 2, width: high - low, length: ahead - back };
}

/**
 * Ends and radii about a guessed axis. A side ray's least distance to the axis is the radius there; the rim at an end
 * reaches beyond the end by radius · tan(elevation), which gives the end itself.
 */
function shapeAbout(
  guess: AxisGuess,
  view: View,
): Pick<StartingValues, 'baseCentreMm' | 'axis' | 'heightMm' | 'radiiMm'> | null {
  const samples = closestApproaches(guess, view);
  if (samples.length < 8) return null;
  const top = endOf(samples, 1);
  const bottom = guess.baseKnown ? 0 : -endOf(samples, -1);
  const heightMm = top - bottom;
  if (!(heightMm > 3 && heightMm < 2000)) return null;
  const radiiMm = radiiBetween(samples, bottom, top);
  if (!radiiMm) return null;
  return { baseCentreMm: add(guess.through, scale(guess.axis, bottom)), axis: guess.axis, heightMm, radiiMm };
}

interface Approach {
  /** Along the axis from the guessed point, mm. */
  readonly along: number;
  readonly distance: number;
  /** |tan| of the ray's angle to the planes across the axis. */
  readonly steepness: number;
}

function closestApproaches(guess: AxisGuess, view: View): Approach[] {
  const { axis } = guess;
  const eye = subtract(view.eye, guess.through);
  const eyeAlong = dot(eye, axis);
  const eyeAcross = subtract(eye, scale(axis, eyeAlong));
  const samples: Approach[] = [];
  for (const ray of view.rays) {
    const along = dot(ray, axis);
    const across = subtract(ray, scale(axis, along));
    const p = dot(across, across);
    const t = -dot(eyeAcross, across) / p;
    if (t <= 0) continue;
    const nearest = add(eyeAcross, scale(across, t));
    samples.push({
      along: eyeAlong + t * along,
      distance: Math.sqrt(dot(nearest, nearest)),
      steepness: Math.abs(along) / Math.sqrt(p),
    });
  }
  return samples;
}

/** Where the body ends in the given direction along the axis, as sign · along. */
function endOf(samples: readonly Approach[], sign: 1 | -1): number {
  const tip = samples.reduce((best, s) => (sign * s.along > sign * best.along ? s : best));
  const far = sign * tip.along;
  if (tip.steepness < 0.02) return far;
  const inwards = [...samples].sort((a, b) => sign * (b.along - a.along));
  let widest = 0;
  for (const sample of inwards) {
    widest = Math.max(widest, sample.distance);
    // behind the card samples may be missing, so not further in than the rim itself reaches
    const reach = 1.02 * widest + 0.5;
    if ((far - sign * sample.along) / tip.steepness > reach) {
      return Math.max(sign * sample.along, far - tip.steepness * reach);
    }
  }
  return far;
}

function radiiBetween(samples: readonly Approach[], bottom: number, top: number): number[] | null {
  const radii = new Array<number>(PROFILE_STEPS + 1).fill(0);
  for (const { along, distance } of samples) {
    const step = Math.round(((along - bottom) / (top - bottom)) * PROFILE_STEPS);
    if (step >= 0 && step <= PROFILE_STEPS) radii[step] = Math.max(radii[step], distance);
  }
  const widest = Math.max(...radii);
  if (!(widest > 1)) return null;
  for (let i = 0; i <= PROFILE_STEPS; i++) if (radii[i] > 0 && radii[i] < 0.08 * widest) radii[i] = 0;
  const filled = radii.map((r, i) => (r > 0 ? r : interpolated(radii, i)));
  // rim rays at both ends read low: carry on from the neighbour
  filled[0] = Math.max(filled[0], filled[1]);
  filled[PROFILE_STEPS] = Math.max(filled[PROFILE_STEPS], 0.9 * filled[PROFILE_STEPS - 1]);
  return filled;
}

function interpolated(radii: readonly number[], index: number): number {
  let before = index;
  while (before >= 0 && radii[before] === 0) before--;
  let after = index;
  while (after < radii.length && radii[after] === 0) after++;
  if (before < 0) return radii[after];
  if (after >= radii.length) return radii[before];
  return radii[before] + ((radii[after] - radii[before]) * (index - before)) / (after - before);
}
