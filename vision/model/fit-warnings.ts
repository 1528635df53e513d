import { type Problem, problem } from '../measurement.ts';
import type { ContainerFit } from './fit-container.ts';
import { add, norm, scale } from './linear3.ts';
import { LOG_FOCAL } from './parameters.ts';

/** Below this share of the height, samples on both sides of the axis show the base. */
const BASE_ZONE_SHARE = 0.12;
const BASE_SAMPLES = 4;
/** Beyond this many card lengths the card says little about the container's place. */
const FAR_CARD_LENGTHS = 3.5;

/** Whether the outline shows the container down to its base. */
export function isBaseSeen({ model, state, solution }: ContainerFit): boolean {
  const zone = Math.max(state.baseEdgeMm * 1.2, BASE_ZONE_SHARE * state.heightMm);
  let samples = 0;
  for (let i = 0; i < model.touchZMm.length; i++) {
    if (model.touchZMm[i] < zone && solution.weights[model.outlineRow + i] > 0.3) samples++;
  }
  return samples >= BASE_SAMPLES;
}

/** What is doubtful about a fit that can still be used. */
export function fitWarnings(fit: ContainerFit): readonly Problem[] {
  const { model, state, sight, covariance } = fit;
  const warnings: Problem[] = [];
  if (sight.focalPrior.source === 'typical-phone') {
    const focalSd = Math.sqrt(covariance[LOG_FOCAL * model.parameterCount + LOG_FOCAL]);
    warnings.push(problem(focalSd > 0.04 ? 'card-square-on' : 'typical-focal'));
  }
  if (sight.looksCropped) warnings.push(problem('looks-cropped'));
  if (!isBaseSeen(fit)) warnings.push(problem('base-not-visible'));
  const middle = add(state.baseCentreMm, scale(state.axis, state.heightMm / 2));
  if (norm(middle) > FAR_CARD_LENGTHS * sight.reference.widthMm) warnings.push(problem('card-far-away'));
  return warnings;
}
