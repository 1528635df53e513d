import type { OutlinePoint } from '../sighting.ts';
import type { BorderSample } from './border-profiles.ts';
import type { MaskPreference } from './mask-costs.ts';
import { maskAt } from './mask-shape.ts';

/** How far beside an edge the mask's border is looked for, in tolerances. */
export const REACH = 4;
const STEPS = 24;
/** Of the samples without an edge every so many get a point from the mask: its errors are alike over that distance. */
const THINNING = 4;

/**
 * An edge that lies well beside the coarse mask's border may be a label, a highlight or something behind: what exceeds
 * the mask's tolerance is added to its sd, in half.
 */
export function withMaskDoubt(points: readonly OutlinePoint[], preference: MaskPreference): OutlinePoint[] {
  return points.map((point) => {
    const sample = { x: point.xPx, y: point.yPx, normalX: point.normalX, normalY: point.normalY };
    const distance = maskBorder(sample, preference);
    const excess = (distance === null ? REACH * preference.tolerancePx : Math.abs(distance)) - preference.tolerancePx;
    return excess > 0 ? { ...point, sdPx: Math.hypot(point.sdPx, excess / 2) } : point;
  });
}

/**
 * Where no edge was seen the mask still says roughly where the outline runs: sparse points. Along one stretch the mask's
 * errors are alike, so that all its points together weigh as one with the mask's tolerance as sd.
 * @param seen  for each sample, whether an edge was seen there
 */
export function pointsFromMask(
  samples: readonly BorderSample[],
  seen: readonly boolean[],
  preference: MaskPreference,
): OutlinePoint[] {
  const points: OutlinePoint[] = [];
  for (const stretch of stretchesWithout(seen)) {
    const found: OutlinePoint[] = [];
    stretch.forEach((i, k) => {
      if (k % THINNING !== 0) return;
      const { x, y, normalX, normalY } = samples[i];
      const distance = maskBorder(samples[i], preference);
      if (distance === null) return;
      found.push({
        xPx: x + distance * normalX,
        yPx: y + distance * normalY,
        normalX,
        normalY,
        sdPx: preference.tolerancePx,
      });
    });
    points.push(...found.map((point) => ({ ...point, sdPx: point.sdPx * Math.sqrt(found.length) })));
  }
  return points;
}

/** Runs of indices that are not seen, those at the end and the beginning joined. */
function stretchesWithout(seen: readonly boolean[]): number[][] {
  const start = Math.max(seen.indexOf(true), 0);
  const stretches: number[][] = [];
  let open = false;
  for (let k = 0; k < seen.length; k++) {
    const i = (start + k) % seen.length;
    if (!seen[i]) {
      if (!open) stretches.push([]);
      stretches[stretches.length - 1].push(i);
    }
    open = !seen[i];
  }
  return stretches;
}

/** Signed distance along the normal to the nearest place where the mask falls below a level, px; null when there is none. */
export function maskBorder(
  { x, y, normalX, normalY }: BorderSample,
  { mask, tolerancePx }: MaskPreference,
  level = 0.5,
): number | null {
  const step = (REACH * tolerancePx) / STEPS;
  const at = (k: number) => maskAt(mask, [x + k * step * normalX, y + k * step * normalY]) - level;
  let nearest: number | null = null;
  let before = at(-STEPS);
  for (let k = -STEPS + 1; k <= STEPS; k++) {
    const now = at(k);
    if (before > 0 && now <= 0) {
      const place = (k - 1 + before / (before - now)) * step;
      if (nearest === null || Math.abs(place) < Math.abs(nearest)) nearest = place;
    }
    before = now;
  }
  return nearest;
}
