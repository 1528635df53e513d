import { largest } from './container/finding-error.ts';
import { fitSameContainer } from './container/fit-same-container.ts';
import { type Agreement, DISAGREE_BELOW } from './container/photos-agree.ts';
import { toMeasurement } from './container/to-measurement.ts';
import type { Measured } from './measure-photo.ts';
import { type Measurement, type Problem, problem } from './measurement.ts';

/** What several photos of one container say together. */
export interface SameContainer {
  /** Sizes of all photos together; card and outline are those of the photo named by `shownPhoto`. */
  readonly measurement: Measurement;
  /** Index of the photo. */
  readonly shownPhoto: number;
  readonly agreement: Agreement;
  readonly warnings: readonly Problem[];
}

/**
 * Measures one container from several photos: one shape that explains all of them best.
 * @param photos  each measured on its own (measure-photo.ts); refused ones say nothing
 * @returns null when fewer than two photos were measured, or no shape explains them together
 */
export function measureSameContainer(photos: readonly Measured[]): SameContainer | null {
  const measured = photos.map((_, k) => k).filter((k) => photos[k].fit);
  const fitted = photos.flatMap(({ fit, findingSd }) =>
    fit ? [{ fit, findingSd: findingSd ? largest(findingSd) : 0 }] : [],
  );
  const joint = fitted.length > 1 ? fitSameContainer(fitted) : null;
  if (!joint) return null;
  const { fit, photo } = joint;
  const agreement = { ...joint.agreement, leftOut: joint.agreement.leftOut.map((k) => measured[k]) };
  const warnings: Problem[] = [];
  if (agreement.probability < DISAGREE_BELOW) warnings.push(problem('photos-disagree'));
  if (agreement.leftOut.length > 0) warnings.push(problem('photo-left-out'));
  return { measurement: toMeasurement(fit), shownPhoto: measured[photo], agreement, warnings };
}
