import { ContainerModel, type Observations } from '../../vision/container/container-model.ts';
import { quadraticForm } from '../../vision/container/container-sizes.ts';
import {
  BASE_CENTRE,
  CARD_SHIFT,
  CENTRE_X,
  CENTRE_Y,
  LOG_BASE_EDGE,
  LOG_FOCAL,
  LOG_HEIGHT,
  LOG_TOP_EDGE,
  RADIAL_K1,
  WALL,
} from '../../vision/container/parameters.ts';
import { traceVertex } from '../../vision/container/profile-curve.ts';
import { invertSymmetric } from '../../vision/geometry/least-squares.ts';
import { radiusAt, type SimulatedScene } from '../support/simulated-scene.ts';

export interface Bound {
  readonly baseDiameterMm: number;
  readonly maxDiameterMm: number;
  readonly heightMm: number;
}

const KNOTS = 64;
const SPLINES = 16;

/**
 * Bayesian Cramér–Rao bound (Van Trees) of a scene: standard deviation that no unbiased estimator beats, from the
 * information of card and outline at the true values and the priors of the nuisances. The profile is free: 16 cubic
 * B-splines with no smoothing, as in the measurement model's own prototype.
 * @returns null when the information is singular (something is not seen at all)
 */
export function cramerRaoBound(scene: SimulatedScene, seen: Observations): Bound | null {
  const knotShares = Float64Array.from({ length: KNOTS }, (_, i) => i / (KNOTS - 1));
  const model = new ContainerModel(seen, {
    cardRotation: scene.view.rotation,
    containerRotation: scene.view.containerRotation,
    knots: { knotShares, edgeShares: new Float64Array(0) },
    unseenKnots: [],
  });
  const truth = trueParameters(scene, seen, model.parameterCount, knotShares);
  const residuals = new Float64Array(model.residualCount);
  const jacobian = new Float64Array(model.residualCount * model.parameterCount);
  if (!model.evaluate(truth, residuals, jacobian)) return null;

  const splines = splineMatrix(knotShares);
  const reduced = WALL + SPLINES;
  const bendRows = KNOTS - 2;
  const information = new Float64Array(reduced * reduced);
  const row = new Float64Array(reduced);
  for (let i = 0; i < model.residualCount - bendRows; i++) {
    reduceRow(jacobian.subarray(i * model.parameterCount, (i + 1) * model.parameterCount), splines, row);
    for (let a = 0; a < reduced; a++) {
      if (row[a] === 0) continue;
      for (let b = 0; b < reduced; b++) information[a * reduced + b] += row[a] * row[b];
    }
  }
  const covariance = invertSymmetric(information, reduced);
  if (!covariance) return null;
  const sdOf = (gradient: Float64Array) => {
    reduceRow(gradient, splines, row);
    return Math.sqrt(quadraticForm(row, covariance, row));
  };
  const gradient = new Float64Array(model.parameterCount);
  gradient[WALL] = 2;
  const baseDiameterMm = sdOf(gradient);
  gradient.fill(0);
  gradient[LOG_HEIGHT] = scene.heightMm;
  const heightMm = sdOf(gradient);
  gradient.fill(0);
  let widest = 0;
  for (let v = 0; v < model.curve.count; v++) if (model.curve.radiusMm[v] > model.curve.radiusMm[widest]) widest = v;
  traceVertex(model.curve, model.profileShape(truth), widest, 2, 0, (column, value) => {
    gradient[column] += value;
  });
  return { baseDiameterMm, maxDiameterMm: sdOf(gradient), heightMm };
}

function trueParameters(
  scene: SimulatedScene,
  seen: Observations,
  count: number,
  knotShares: Float64Array,
): Float64Array {
  const { view, heightMm } = scene;
  const truth = new Float64Array(count);
  truth[LOG_FOCAL] = Math.log(view.camera.focalPx);
  truth[CENTRE_X] = view.camera.centreXPx - seen.centrePx[0];
  truth[CENTRE_Y] = view.camera.centreYPx - seen.centrePx[1];
  truth[RADIAL_K1] = view.camera.k1;
  truth.set(view.translationMm, CARD_SHIFT);
  truth.set(view.baseCentreMm, BASE_CENTRE);
  truth[LOG_HEIGHT] = Math.log(heightMm);
  truth[LOG_BASE_EDGE] = Math.log(scene.baseEdgeMm);
  truth[LOG_TOP_EDGE] = Math.log(scene.topEdgeMm);
  const top = heightMm - scene.topEdgeMm - 0.01;
  knotShares.forEach((share, j) => {
    const z = share * heightMm;
    // inside the rounded ends the wall goes on straight
    if (z < scene.baseEdgeMm + 0.01) truth[WALL + j] = scene.baseDiameterMm / 2;
    else if (z > top) truth[WALL + j] = scene.topDiameterMm / 2;
    else truth[WALL + j] = radiusAt(scene.profile, z);
  });
  return truth;
}

/** Row-major KNOTS × SPLINES: values of the uniform cubic B-splines at the knots. */
function splineMatrix(knotShares: Float64Array): Float64Array {
  const matrix = new Float64Array(knotShares.length * SPLINES);
  const spans = SPLINES - 3;
  knotShares.forEach((share, j) => {
    const at = share * spans;
    const first = Math.min(Math.floor(at), spans - 1);
    const t = at - first;
    const weights = [(1 - t) ** 3, 3 * t ** 3 - 6 * t ** 2 + 4, -3 * t ** 3 + 3 * t ** 2 + 3 * t + 1, t ** 3];
    weights.forEach((weight, k) => {
      matrix[j * SPLINES + first + k] = weight / 6;
    });
  });
  return matrix;
}

/** A row by knots as a row by spline coefficients. */
function reduceRow(full: Float64Array, splines: Float64Array, reduced: Float64Array): void {
  reduced.fill(0);
  for (let a = 0; a < WALL; a++) reduced[a] = full[a];
  for (let j = 0; j < KNOTS; j++) {
    const value = full[WALL + j];
    if (value === 0) continue;
    for (let k = 0; k < SPLINES; k++) reduced[WALL + k] += value * splines[j * SPLINES + k];
  }
}
