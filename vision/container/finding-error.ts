import { type Estimate, estimate, NORMAL_95 } from '../estimate.ts';
import type { Measurement } from '../measurement.ts';

/** Makers are told of sizes less certain than this because the outline is. */
export const UNCERTAIN_RELATIVE_SD = 0.03;

/**
 * The fit's error bars suppose that the outline found is the container's. This adds what is lost when it is not.
 * @param relativeSd  standard uncertainty of every length that the finding leaves, as a share of it (outline-evidence.ts)
 * @param fitSdFactor  by how much the fit is more uncertain than it says
 */
export function withFindingError(measurement: Measurement, relativeSd: number, fitSdFactor = 1): Measurement {
  const widened = ({ value, sd }: Estimate, share: number) => withRelativeSd({ value, sd: fitSdFactor * sd }, share);
  return {
    ...measurement,
    baseDiameterMm: measurement.baseDiameterMm && widened(measurement.baseDiameterMm, relativeSd),
    maxDiameterMm: widened(measurement.maxDiameterMm, relativeSd),
    heightMm: widened(measurement.heightMm, relativeSd),
    // A volume goes with the square of the diameter and with the height.
    capacityMl: widened(measurement.capacityMl, Math.hypot(2, 1) * relativeSd),
    profile: measurement.profile.map((point) => ({
      ...point,
      sdMm: Math.hypot(fitSdFactor * point.sdMm, relativeSd * point.radiusMm),
    })),
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
