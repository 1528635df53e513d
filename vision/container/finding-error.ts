import { type Estimate, estimate, NORMAL_95 } from '../estimate.ts';
import type { Measurement } from '../measurement.ts';
import { forEachSize, type MeasuredSize } from './container-sizes.ts';

/** Makers are told of sizes less certain than this because the outline is. */
export const UNCERTAIN_RELATIVE_SD = 0.03;

/** Standard uncertainty of each size, as a share of it, because the outline or the way the card lies may be another. */
export type FindingSd = Readonly<Record<MeasuredSize, number>>;

/** The same of every size. */
export function evenly(relativeSd: number): FindingSd {
  return forEachSize(() => relativeSd);
}

/** Of two causes that have nothing to do with each other. */
export function together(a: FindingSd, b: FindingSd): FindingSd {
  return forEachSize((size) => Math.hypot(a[size], b[size]));
}

/** Of the two sizes that every measurement has, the larger. */
export function largest({ maxDiameterMm, heightMm }: FindingSd): number {
  return Math.max(maxDiameterMm, heightMm);
}

/** Of the height, up to which a wall is as uncertain as the base it rises from. */
const LOWEST_THIRD = 1 / 3;

/**
 * The fit's error bars suppose that the outline found is the container's. This adds what is lost when it is not.
 * @param fitSdFactor  by how much the fit is more uncertain than it says
 */
export function withFindingError(measurement: Measurement, findingSd: FindingSd, fitSdFactor = 1): Measurement {
  const widened = ({ value, sd }: Estimate, share: number) => withRelativeSd({ value, sd: fitSdFactor * sd }, share);
  return {
    ...measurement,
    baseDiameterMm: measurement.baseDiameterMm && widened(measurement.baseDiameterMm, findingSd.baseDiameterMm),
    maxDiameterMm: widened(measurement.maxDiameterMm, findingSd.maxDiameterMm),
    heightMm: widened(measurement.heightMm, findingSd.heightMm),
    // A volume goes with the square of the diameter and with the height.
    capacityMl: widened(measurement.capacityMl, Math.hypot(2 * findingSd.maxDiameterMm, findingSd.heightMm)),
    profile: measurement.profile.map((point) => {
      const isLow = point.zMm < LOWEST_THIRD * measurement.heightMm.value;
      const relativeSd = findingSd[isLow && measurement.baseDiameterMm ? 'baseDiameterMm' : 'maxDiameterMm'];
      return { ...point, sdMm: Math.hypot(fitSdFactor * point.sdMm, relativeSd * point.radiusMm) };
    }),
  };
}

/** A size with another relative standard uncertainty besides its own. */
export function withRelativeSd({ value, sd }: Pick<Estimate, 'value' | 'sd'>, relativeSd: number): Estimate {
  return estimate(value, Math.hypot(sd, relativeSd * Math.abs(value)));
}

/**
 * A base that may be at either end: the estimate of one with an interval that holds the other one's, too.
 */
export function spanningBoth(base: Estimate, otherEnd: Estimate): Estimate {
  const low95 = Math.min(base.low95, otherEnd.low95);
  const high95 = Math.max(base.high95, otherEnd.high95);
  return { value: base.value, sd: (high95 - low95) / (2 * NORMAL_95), low95, high95 };
}

/** A 95 % interval that reaches this share of the value, to either side, says too little to be called a measurement. */
export const WIDEST_INTERVAL = 0.3;

/** Whether widest diameter and height are known well enough to plan with. */
export function isMeasurement({ maxDiameterMm, heightMm }: Pick<Measurement, 'maxDiameterMm' | 'heightMm'>): boolean {
  return [maxDiameterMm, heightMm].every(isKnown);
}

export function isKnown({ value, low95, high95 }: Estimate): boolean {
  return low95 > 0 && Math.max(value - low95, high95 - value) < WIDEST_INTERVAL * value;
}
