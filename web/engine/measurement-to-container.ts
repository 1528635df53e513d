import type { Container } from '../../sizing/container.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { anyReferenceNamed } from '../reference/reference-named.ts';

/**
 * What a photo measured, as the sizing engine takes it: the one place that knows both engines.
 * A base that the photo does not show is taken as wide as the lowest part seen, and said to be that much less certain.
 * @param measurement  lengths in mm; every uncertainty is k = 1
 */
export function measurementToContainer(measurement: Measurement): Container {
  const { features } = measurement;
  const relativeScaleSd = anyReferenceNamed(measurement.card.reference)?.relativeSd;
  const profile = measurement.profile
    .filter((point) => point.radiusMm > 0)
    .map(({ zMm, radiusMm, sdMm }) => ({ zMm, radiusMm, sdMm }))
    .sort((a, b) => a.zMm - b.zMm);
  return {
    heightMm: valueAndSd(measurement.heightMm),
    maxDiameterMm: valueAndSd(measurement.maxDiameterMm),
    baseDiameterMm: valueAndSd(measurement.baseDiameterMm ?? hiddenBase(measurement)),
    profile,
    baseEdgeRadiusMm: valueAndSd(features.baseEdgeRadiusMm),
    shoulderZMm: features.shoulderZMm && valueAndSd(features.shoulderZMm),
    ...(relativeScaleSd === undefined ? {} : { relativeScaleSd }),
  };
}

/** A base nobody saw may be narrower than the wall above it by a good share of the rounded edge. */
const HIDDEN_BASE_RELATIVE_SD = 0.05;

function hiddenBase(measurement: Measurement) {
  const lowest = measurement.profile[0];
  const value = lowest ? 2 * lowest.radiusMm : measurement.maxDiameterMm.value;
  return { value, sd: Math.hypot(HIDDEN_BASE_RELATIVE_SD * value, 2 * (lowest?.sdMm ?? 0)) };
}

function valueAndSd({ value, sd }: { readonly value: number; readonly sd: number }) {
  return { value, sd };
}
