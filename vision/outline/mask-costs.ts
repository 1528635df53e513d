import type { ImagePoint } from '../geometry/frames.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import { maskAt } from './mask-shape.ts';

/** What a coarse mask says about the border, as a soft preference beside the picture's edges. */
export interface MaskPreference {
  readonly mask: CoarseMask;
  /** Distance from the mask's border that costs `COST_AT_TOLERANCE`, photo px: as exact as such masks are. */
  readonly tolerancePx: number;
}

/** Against a border cost of 1 for "no edge at all". */
const COST_AT_TOLERANCE = 0.25;
const MOST_COST = 1;
/** Log odds at which the mask counts as quite sure. */
const SURE = 2.5;

/**
 * Adds to each place the cost of the mask's pixels that would be on the wrong side of a border there.
 * @param costs  count × places
 * @param ends   photo positions of the first and the last place of sample i; null to leave the sample alone
 */
export function addMaskCosts(
  costs: Float32Array,
  places: number,
  ends: (i: number) => readonly [ImagePoint, ImagePoint] | null,
  { mask, tolerancePx }: MaskPreference,
): void {
  const gain = new Float64Array(places);
  for (let i = 0; i * places < costs.length; i++) {
    const span = ends(i);
    if (!span) continue;
    const [[x0, y0], [x1, y1]] = span;
    const stepPx = Math.hypot(x1 - x0, y1 - y0) / (places - 1);
    let sum = 0;
    let best = -Infinity;
    for (let k = 0; k < places; k++) {
      const t = k / (places - 1);
      const p = Math.min(Math.max(maskAt(mask, [x0 + t * (x1 - x0), y0 + t * (y1 - y0)]), 0.01), 0.99);
      const sure = Math.min(Math.max(Math.log(p / (1 - p)) / SURE, -1), 1);
      sum += sure * stepPx;
      gain[k] = sum;
      best = Math.max(best, sum);
    }
    for (let k = 0; k < places; k++) {
      costs[i * places + k] += Math.min((COST_AT_TOLERANCE * (best - gain[k])) / tolerancePx, MOST_COST);
    }
  }
}
