import { type Estimate, estimate } from '../estimate.ts';
import type { Measurement } from '../measurement.ts';

/**
 * Size error of an outline that follows something else than the container for a stretch: a shadow, a reflection, a thing
 * behind it. Upper end of what is measured at all; no source outside the project.
 */
export const WRONG_OUTLINE_RELATIVE_SD = 0.12;

/** Makers are told of sizes less certain than this because the outline is. */
export const UNCERTAIN_RELATIVE_SD = 0.03;

/**
 * The fit's error bars suppose that the outline found is the container's. This adds what is lost when it is not: with
 * probability 1 − quality the sizes are off by the spread above, and variances of a mixture add up.
 * @param quality  0..1, chance that the outline is right (outline-evidence.ts)
 */
export function withFindingError(measurement: Measurement, quality: number): Measurement {
  const relativeSd = findingRelativeSd(quality);
  const widened = (size: Estimate, times = 1) =>
    estimate(size.value, Math.hypot(size.sd, times * relativeSd * Math.abs(size.value)));
  return {
    ...measurement,
    baseDiameterMm: measurement.baseDiameterMm && widened(measurement.baseDiameterMm),
    maxDiameterMm: widened(measurement.maxDiameterMm),
    heightMm: widened(measurement.heightMm),
    // A volume goes with the square of the diameter and with the height.
    capacityMl: widened(measurement.capacityMl, Math.hypot(2, 1)),
    profile: measurement.profile.map((point) => ({
      ...point,
      sdMm: Math.hypot(point.sdMm, relativeSd * point.radiusMm),
    })),
  };
}

/** Relative standard uncertainty of every length, the same for all, for an outline that is right with chance `quality`. */
export function findingRelativeSd(quality: number): number {
  return WRONG_OUTLINE_RELATIVE_SD * Math.sqrt(Math.min(Math.max(1 - quality, 0), 1));
}

/** The quality that stands for a relative standard uncertainty: the inverse of `findingRelativeSd`. */
export function qualityOfError(relativeSd: number): number {
  return 1 - Math.min(relativeSd / WRONG_OUTLINE_RELATIVE_SD, 1) ** 2;
}
