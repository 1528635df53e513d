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

/** What the photo shows of a piece of the outline. */
export type InSight = 'edge' | 'no-edge' | 'hidden';

/**
 * What the card or the frame hides the mask only guesses: there its border is off by this many tolerances (0.03 of the long
 * side; root mean square over 119 generated photos that the network had not seen: 0.023 to 0.034 by part of the outline).
 */
const HIDDEN_TOLERANCES = 3.75;

/**
 * Where no edge was seen the mask still says roughly where the outline runs: sparse points. Along one stretch the mask's
 * errors are alike, so that all its points together weigh as one with the mask's tolerance as sd.
 */
export function pointsFromMask(
  samples: readonly BorderSample[],
  inSight: readonly InSight[],
  preference: MaskPreference,
): OutlinePoint[] {
  const points: OutlinePoint[] = [];
  for (const stretch of stretchesWithoutEdge(inSight)) {
    const found: OutlinePoint[] = [];
    const supposed = inSight[stretch[0]] === 'hidden';
    const sdPx = preference.tolerancePx * (supposed ? HIDDEN_TOLERANCES : 1);
    stretch.forEach((i, k) => {
      if (k % THINNING !== 0) return;
      const { x, y, normalX, normalY } = samples[i];
      const distance = maskBorder(samples[i], preference);
      if (distance === null) return;
      found.push({ xPx: x + distance * normalX, yPx: y + distance * normalY, normalX, normalY, sdPx, supposed });
    });
    points.push(...found.map((point) => ({ ...point, sdPx: point.sdPx * Math.sqrt(found.length) })));
  }
  return points;
}

/** Runs of indices that show no edge for the same reason, those at the end and the beginning joined. */
function stretchesWithoutEdge(inSight: readonly InSight[]): number[][] {
  const count = inSight.length;
  const start = Math.max(
    inSight.findIndex((one, i) => one !== inSight[(i + count - 1) % count]),
    0,
  );
  const stretches: number[][] = [];
  let before: InSight = 'edge';
  for (let k = 0; k < count; k++) {
    const i = (start + k) % count;
    if (inSight[i] !== 'edge') {
      if (inSight[i] !== before) stretches.push([]);
      stretches[stretches.length - 1].push(i);
    }
    before = inSight[i];
  }
  return stretches;
}

/** Signed distance along the normal to the nearest place where the mask falls below one half, px; null when there is none. */
export function maskBorder(
  { x, y, normalX, normalY }: BorderSample,
  { mask, tolerancePx }: MaskPreference,
): number | null {
  const step = (REACH * tolerancePx) / STEPS;
  const at = (k: number) => maskAt(mask, [x + k * step * normalX, y + k * step * normalY]) - 0.5;
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
