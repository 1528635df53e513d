import { axisEndsOf, solidOf } from '../container/solid-in-view.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf } from '../geometry/polygon.ts';
import type { DoubtfulStretch } from '../measurement.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import { REACH as MASK_REACH, maskBorder } from './mask-doubt.ts';
import type { ModelRefinement } from './refine-with-model.ts';

/** How much of the outline is shown as doubtful at once. */
const STRETCH_SHARE = 0.12;
/** As far beside the edges as the mask is asked, share of the long side. */
const FARTHEST_SHARE = 0.05;
/** Ends of the outline, as shares of the height. */
const END_SHARE = 0.06;

/** The stretch of a refined outline where network and edges agree least, or no edge was seen. */
export function doubtfulStretch(refined: ModelRefinement, mask: CoarseMask | null): DoubtfulStretch | null {
  const { samples, snapped, fit } = refined;
  if (samples.length < 8) return null;
  const farthestPx = FARTHEST_SHARE * longSideOf(samples.map(({ x, y }): ImagePoint => [x, y]));
  const preference = mask && { mask, tolerancePx: farthestPx / MASK_REACH };
  const doubts = samples.map(({ x, y, normalX, normalY }, i) => {
    const { visible, clarity, offsetPx } = snapped[i];
    if (!visible) return 0;
    const edge = { x: x + offsetPx * normalX, y: y + offsetPx * normalY, normalX, normalY };
    const stray = preference ? (Math.abs(maskBorder(edge, preference) ?? farthestPx) / farthestPx) * 2 : 0;
    return stray + (1 - clarity);
  });
  const count = Math.max(3, Math.round(STRETCH_SHARE * samples.length));
  let first = 0;
  let largest = -1;
  for (let start = 0; start < samples.length; start++) {
    let sum = 0;
    for (let k = 0; k < count; k++) sum += doubts[(start + k) % samples.length];
    if (sum > largest) [first, largest] = [start, sum];
  }
  const stretch = Array.from({ length: count }, (_, k) => samples[(first + k) % samples.length]);
  const middle = stretch[count >> 1];
  const share = middle.zMm / fit.state.heightMm;
  fit.model.stateAt(fit.solution.parameters);
  const [[ax, ay], [bx, by]] = axisEndsOf(solidOf(fit.state, fit.model.curve));
  // to the right of the way from base to top is the right of an upright one
  const side = (bx - ax) * (middle.y - ay) - (by - ay) * (middle.x - ax) < 0 ? 'left-wall' : 'right-wall';
  return {
    at: share > 1 - END_SHARE ? 'top-edge' : share < END_SHARE ? 'base-edge' : side,
    pathPx: stretch.map(({ x, y }) => [x, y] as const),
  };
}
