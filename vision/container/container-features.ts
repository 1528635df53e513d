import { type Estimate, estimate } from '../estimate.ts';
import type { ContainerFeatures } from '../measurement.ts';
import { propagatedSd, wallAt } from './container-sizes.ts';
import type { ContainerFit } from './fit-container.ts';
import { LOG_HEIGHT } from './parameters.ts';

/** Steps along the height at which the wall is looked at. */
const STEPS = 200;
/** The body ends where the wall is this far (share of its radius) inside its own straight line. */
const SHOULDER_SHARE = 0.05;
/** A waist or neck is at least this much narrower (share of the radius) than what is above and below it. */
const WAIST_SHARE = 0.03;

/** Shoulder, neck, waist and taper of the fitted container. */
export function containerFeatures(fit: ContainerFit, baseEdgeRadiusMm: Estimate): ContainerFeatures {
  const { model, solution, covariance } = fit;
  const height = Math.exp(solution.parameters[LOG_HEIGHT]);
  const wall = Array.from({ length: STEPS + 1 }, (_, i) => wallAt(model, solution.parameters, (i / STEPS) * height));
  const foot = Math.min(Math.ceil((baseEdgeRadiusMm.value / height) * STEPS), STEPS / 4);
  const shoulder = shoulderStep(wall, foot);
  const bodyEnd = shoulder ?? STEPS - Math.ceil(STEPS / 20);
  const neck = shoulder === null ? null : narrowestAbove(wall, shoulder);
  const waist = waistStep(wall, foot, bodyEnd);
  const at = (step: number) => (step / STEPS) * height;
  const sdOf = (value: (parameters: Float64Array) => number) => propagatedSd(value, solution.parameters, covariance);
  const stepSd = height / (model.frame.knots.knotShares.length - 1) / Math.sqrt(12);
  const taper = (parameters: Float64Array) =>
    Math.atan2(wallAt(model, parameters, at(bodyEnd)) - wallAt(model, parameters, at(foot)), at(bodyEnd) - at(foot));
  return {
    baseEdgeRadiusMm,
    shoulderZMm: shoulder === null ? null : estimate(at(shoulder), stepSd),
    neckDiameterMm:
      neck === null
        ? null
        : estimate(
            2 * wall[neck],
            sdOf((parameters) => 2 * wallAt(model, parameters, at(neck))),
          ),
    waistZMm: waist === null ? null : estimate(at(waist), stepSd),
    wallTaperRad: estimate(taper(solution.parameters), sdOf(taper)),
  };
}

/** Step at which the wall leaves the straight line through its lower part inwards, or null. */
function shoulderStep(wall: readonly number[], foot: number): number | null {
  const half = foot + Math.round((wall.length - 1 - foot) * 0.45);
  const slope = (wall[half] - wall[foot]) / (half - foot);
  for (let i = half; i < wall.length - 2; i++) {
    const line = wall[foot] + slope * (i - foot);
    if (wall[i] < line * (1 - SHOULDER_SHARE)) {
      // back to where it began to leave the line
      let start = i;
      while (start > foot && wall[start] < (wall[foot] + slope * (start - foot)) * (1 - SHOULDER_SHARE / 10)) start--;
      return start;
    }
  }
  return null;
}

/** Narrowest place above the shoulder that has something as wide or wider above it, or the top's own radius. */
function narrowestAbove(wall: readonly number[], shoulder: number): number | null {
  const last = wall.length - 1 - Math.ceil(wall.length / 50);
  let best = -1;
  for (let i = shoulder + 1; i < last; i++) {
    const above = Math.max(...wall.slice(i + 1, last + 1));
    if (above < wall[i] * 1.01) continue;
    if (best < 0 || wall[i] < wall[best]) best = i;
  }
  return best < 0 ? null : best;
}

/** Narrowest place of the body with clearly wider places below and above, or null. */
function waistStep(wall: readonly number[], foot: number, bodyEnd: number): number | null {
  let best: number | null = null;
  let depth = WAIST_SHARE;
  for (let i = foot + 1; i < bodyEnd; i++) {
    const below = Math.max(...wall.slice(foot, i));
    const above = Math.max(...wall.slice(i + 1, bodyEnd + 1));
    const dip = Math.min(below, above) / wall[i] - 1;
    if (dip > depth) {
      depth = dip;
      best = i;
    }
  }
  return best;
}
