import { type Agreement, photosAgree } from '../../vision/container/photos-agree.ts';
import type { Estimate } from '../../vision/estimate.ts';
import { estimate } from '../../vision/estimate.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { anyReferenceNamed } from '../reference/reference-named.ts';

/**
 * What several photos of one container say together. Each size is the mean weighted by 1/sd², its sd widened by the
 * scale factor of the Particle Data Group (Review of Particle Physics, "Unconstrained averaging") when the photos
 * disagree. The card's own tolerance is the same error in every photo of it, so no number of photos goes below it.
 * Shape, outline and card are those of the photo that knows the widest place best. A photo that does not fit the others
 * is left out when they are more.
 * @param all  at least one measurement of the same container
 */
export function combinedMeasurement(all: readonly Measurement[]): Measurement {
  const { leftOut } = agreementOf(all);
  const photos = all.filter((_, k) => !leftOut.includes(k));
  if (photos.length === 1) return photos[0];
  const best = photos.reduce((a, b) => (b.maxDiameterMm.sd < a.maxDiameterMm.sd ? b : a));
  const scaleSd = anyReferenceNamed(best.card.reference)?.relativeSd ?? 0;
  const together = (sizes: readonly (Estimate | null)[]) =>
    weightedMean(
      sizes.filter((size) => size !== null),
      scaleSd,
    );
  const maxDiameterMm = together(photos.map((photo) => photo.maxDiameterMm)) ?? best.maxDiameterMm;
  const heightMm = together(photos.map((photo) => photo.heightMm)) ?? best.heightMm;
  const widths = maxDiameterMm.value / best.maxDiameterMm.value;
  const heights = heightMm.value / best.heightMm.value;
  return {
    ...best,
    maxDiameterMm,
    heightMm,
    baseDiameterMm: together(photos.map((photo) => photo.baseDiameterMm)),
    capacityMl: together(photos.map((photo) => photo.capacityMl)) ?? best.capacityMl,
    profile: best.profile.map(({ zMm, radiusMm, sdMm }) => ({
      zMm: zMm * heights,
      radiusMm: radiusMm * widths,
      sdMm: Math.min(sdMm, Math.max((sdMm * maxDiameterMm.sd) / best.maxDiameterMm.sd, scaleSd * radiusMm)),
    })),
  };
}

/** Whether photos that are said to show one container can do so, by its widest place and its height. */
export function agreementOf(photos: readonly Measurement[]): Agreement {
  const relativeVariance = ({ value, sd }: Estimate) => (sd / value) ** 2;
  return photosAgree(
    photos.map(({ maxDiameterMm, heightMm }) => ({
      values: [Math.log(maxDiameterMm.value), Math.log(heightMm.value)],
      covariance: [relativeVariance(maxDiameterMm), 0, relativeVariance(heightMm)],
    })),
  );
}

function weightedMean(sizes: readonly Estimate[], scaleSd: number): Estimate | null {
  if (sizes.length === 0) return null;
  const weights = sizes.map(({ sd }) => 1 / sd ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const value = sizes.reduce((sum, size, k) => sum + weights[k] * size.value, 0) / total;
  const chiSquared = sizes.reduce((sum, size, k) => sum + weights[k] * (size.value - value) ** 2, 0);
  const widened = Math.max(1, Math.sqrt(chiSquared / Math.max(1, sizes.length - 1)));
  return estimate(value, Math.max(widened / Math.sqrt(total), scaleSd * value));
}
