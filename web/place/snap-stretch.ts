import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { bendWeights } from './bend-outline.ts';

/** Beyond this share of a bend's height its points lie fully on the edge; towards its ends they blend into the rest. */
const FULLY_SNAPPED = 0.3;

/**
 * The outline with the stretch that was bent laid onto the edge found nearby; the rest stays as it was.
 * @param outlinePx  closed polygon after bending
 * @param edgePx     the same outline on the photo's edges, closed polygon, any number of points
 * @param handles    ascending indices of its handles
 * @param moved      which handle was bent, as a position in `handles`
 * @param reachPx    points farther than this from the edge stay
 */
export function snapStretch(
  outlinePx: readonly ImagePoint[],
  edgePx: readonly ImagePoint[],
  handles: readonly number[],
  moved: number,
  reachPx: number,
): ImagePoint[] {
  if (edgePx.length < 3) return [...outlinePx];
  return bendWeights(outlinePx, handles, moved).map((weight, i) => {
    const [x, y] = outlinePx[i];
    if (weight === 0) return [x, y];
    const [nearX, nearY] = nearestOn(edgePx, [x, y]);
    const share = Math.hypot(nearX - x, nearY - y) > reachPx ? 0 : Math.min(1, weight / FULLY_SNAPPED);
    return [x + share * (nearX - x), y + share * (nearY - y)];
  });
}

function nearestOn(polygon: readonly ImagePoint[], [x, y]: ImagePoint): ImagePoint {
  let best: ImagePoint = polygon[0];
  let least = Number.POSITIVE_INFINITY;
  polygon.forEach(([ax, ay], k) => {
    const [bx, by] = polygon[(k + 1) % polygon.length];
    const [dx, dy] = [bx - ax, by - ay];
    const along = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    const at: ImagePoint = [ax + along * dx, ay + along * dy];
    const away = Math.hypot(at[0] - x, at[1] - y);
    if (away < least) [best, least] = [at, away];
  });
  return best;
}
