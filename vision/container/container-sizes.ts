import type { ContainerModel } from './container-model.ts';
import type { ContainerFit } from './fit-container.ts';
import { LOG_BASE_EDGE, LOG_FOCAL, LOG_HEIGHT, WALL } from './parameters.ts';
import { drawProfile, type ProfileCurve, wallRadiusMm } from './profile-curve.ts';

const WIDEST_WITHIN_MM = 0.06;

/** Sizes as functions of the parameters; each is propagated through the full covariance. */
export interface ContainerSizes {
  readonly baseDiameterMm: number;
  /** Wall extended to the top: the base diameter of a container that was taken upside down. */
  readonly topDiameterMm: number;
  readonly maxDiameterMm: number;
  readonly heightMm: number;
  readonly capacityMl: number;
  readonly baseEdgeRadiusMm: number;
  readonly focalLengthPx: number;
}

/** Those a maker is told with their uncertainty. */
export type MeasuredSize = 'maxDiameterMm' | 'heightMm' | 'baseDiameterMm';

/** One thing for each of them. */
export function forEachSize<T>(of: (size: MeasuredSize) => T): Readonly<Record<MeasuredSize, T>> {
  return { maxDiameterMm: of('maxDiameterMm'), heightMm: of('heightMm'), baseDiameterMm: of('baseDiameterMm') };
}

/** Outer sizes of the container at a list of parameters; null when the parameters are impossible. */
export function containerSizes(model: ContainerModel, parameters: Float64Array): ContainerSizes | null {
  if (!drawProfile(model.curve, model.profileShape(parameters))) return null;
  const { count, zMm, radiusMm } = model.curve;
  let volume = 0;
  for (let v = 0; v < count; v++) {
    if (v + 1 === count) break;
    const [a, b] = [radiusMm[v], radiusMm[v + 1]];
    // frustum
    volume += ((Math.PI * (zMm[v + 1] - zMm[v])) / 3) * (a * a + a * b + b * b);
  }
  return {
    baseDiameterMm: 2 * parameters[WALL],
    topDiameterMm: 2 * parameters[WALL + model.frame.knots.knotShares.length - 1],
    maxDiameterMm: 2 * widestRadiusMm(model.curve),
    heightMm: Math.exp(parameters[LOG_HEIGHT]),
    capacityMl: volume / 1000,
    baseEdgeRadiusMm: Math.exp(parameters[LOG_BASE_EDGE]),
    focalLengthPx: Math.exp(parameters[LOG_FOCAL]),
  };
}

/** By how much the widest diameter or the height of two fits differ, whichever more, as a share; 0 when one is impossible. */
export function sizesApart(...fits: readonly [ContainerFit, ContainerFit]): number {
  const [a, b] = fits.map(({ model, solution }) => containerSizes(model, solution.parameters));
  if (!a || !b) return 0;
  return Math.max(Math.abs(a.maxDiameterMm / b.maxDiameterMm - 1), Math.abs(a.heightMm / b.heightMm - 1));
}

/**
 * Mean over all stretches that come within a hair of the largest radius, since the maximum of many noisy knots would read
 * large.
 */
function widestRadiusMm({ count, zMm, radiusMm }: ProfileCurve): number {
  let peak = 0;
  for (let v = 1; v < count; v++) peak = Math.max(peak, radiusMm[v]);
  let sum = 0;
  let length = 0;
  for (let v = 0; v + 1 < count; v++) {
    if (Math.min(radiusMm[v], radiusMm[v + 1]) < peak - WIDEST_WITHIN_MM) continue;
    const piece = zMm[v + 1] - zMm[v];
    sum += (piece * (radiusMm[v] + radiusMm[v + 1])) / 2;
    length += piece;
  }
  return length > 0 ? sum / length : peak;
}

/** Wall radius at a height, edges left out, mm. */
export function wallAt(model: ContainerModel, parameters: Float64Array, zMm: number): number {
  return wallRadiusMm(model.curve, model.profileShape(parameters), zMm);
}

/**
 * Standard uncertainty of a function of the parameters: √(g C gᵀ), g by central differences over a share of one standard
 * uncertainty each. Source: JCGM 100 (GUM), eq. 13 and note 2 to 5.1.3.
 */
export function propagatedSd(
  value: (parameters: Float64Array) => number,
  parameters: Float64Array,
  covariance: Float64Array,
): number {
  const gradient = gradientOf(value, parameters, covariance);
  return Math.sqrt(Math.max(quadraticForm(gradient, covariance, gradient), 0));
}

/** Of one standard uncertainty. */
const STEP_SHARE = 0.1;

export function gradientOf(
  value: (parameters: Float64Array) => number,
  parameters: Float64Array,
  covariance: Float64Array,
): Float64Array {
  const n = parameters.length;
  const shifted = Float64Array.from(parameters);
  const middle = value(parameters);
  return parameters.map((centre, i) => {
    const step = STEP_SHARE * Math.sqrt(covariance[i * n + i]);
    if (!(step > 0)) return 0;
    shifted[i] = centre + step;
    const high = value(shifted);
    shifted[i] = centre - step;
    const low = value(shifted);
    shifted[i] = centre;
    if (Number.isFinite(high) && Number.isFinite(low)) return (high - low) / (2 * step);
    // at the rim of what is possible one side has to do
    return Number.isFinite(high) ? (high - middle) / step : (middle - low) / step;
  });
}

export function quadraticForm(a: Float64Array, covariance: Float64Array, b: Float64Array): number {
  const n = a.length;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    if (a[i] === 0) continue;
    let row = 0;
    for (let j = 0; j < n; j++) row += covariance[i * n + j] * b[j];
    sum += a[i] * row;
  }
  return sum;
}
