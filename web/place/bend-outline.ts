import type { ImagePoint } from '../../vision/geometry/frames.ts';

/** Handles around an outline: enough to follow a shoulder and a rim, few enough for thumbs. */
export const HANDLE_COUNT = 12;

/** Points of an outline that is edited: dense enough to follow a rim, whatever came in. */
const EVEN_COUNT = 360;

/** The same closed outline with its points evenly spaced, so that handles and bends spread evenly too. */
export function evenlySpaced(outlinePx: readonly ImagePoint[], count = EVEN_COUNT): readonly ImagePoint[] {
  if (outlinePx.length < 3 || outlinePx.length === count) return outlinePx;
  const along = distancesAlong(outlinePx);
  const perimeter = along[outlinePx.length];
  let i = 0;
  return Array.from({ length: count }, (_, k) => {
    const at = (perimeter * k) / count;
    while (along[i + 1] < at) i += 1;
    const share = (at - along[i]) / (along[i + 1] - along[i] || 1);
    const [x, y] = outlinePx[i];
    const [nextX, nextY] = outlinePx[(i + 1) % outlinePx.length];
    return [x + share * (nextX - x), y + share * (nextY - y)] as const;
  });
}

/** Indices of outline points that carry a handle, evenly spaced along the closed outline, ascending from 0. */
export function handleIndices(outlinePx: readonly ImagePoint[], count = HANDLE_COUNT): number[] {
  const along = distancesAlong(outlinePx);
  const perimeter = along[outlinePx.length];
  const indices: number[] = [];
  for (let k = 0, i = 0; k < Math.min(count, outlinePx.length); k += 1) {
    while (i < outlinePx.length - 1 && along[i] < (perimeter * k) / count) i += 1;
    if (indices.at(-1) !== i) indices.push(i);
  }
  return indices;
}

/**
 * Moves one handle and, less and less, the outline on both sides of it up to the neighbouring handles.
 * @param outlinePx  closed polygon
 * @param handles    ascending indices of its handles, at least 3
 * @param moved      which handle, as a position in `handles`
 * @param byPx       displacement of that handle
 */
export function bendOutline(
  outlinePx: readonly ImagePoint[],
  handles: readonly number[],
  moved: number,
  byPx: readonly [dxPx: number, dyPx: number],
): ImagePoint[] {
  return bendWeights(outlinePx, handles, moved).map((weight, i) => {
    const [x, y] = outlinePx[i];
    return [x + weight * byPx[0], y + weight * byPx[1]];
  });
}

/** How far each point goes along when one handle is moved: 1 at the handle, 0 from its neighbours on. */
export function bendWeights(outlinePx: readonly ImagePoint[], handles: readonly number[], moved: number): number[] {
  const count = outlinePx.length;
  const along = distancesAlong(outlinePx);
  const perimeter = along[count];
  const centre = along[handles[moved]];
  const distance = (from: number, to: number) => (to - from + perimeter) % perimeter || perimeter;
  const reachBack = distance(along[handles.at(moved - 1) as number], centre);
  const reachOn = distance(centre, along[handles[(moved + 1) % handles.length]]);
  return outlinePx.map((_, i) => {
    const on = (along[i] - centre + perimeter) % perimeter;
    const share = on < reachOn ? on / reachOn : Math.min(1, (perimeter - on) / reachBack);
    return 0.5 * (1 + Math.cos(Math.PI * share));
  });
}

/** A box with rounded corners to pull into shape when no outline was found. */
export function startingOutline(photo: { readonly widthPx: number; readonly heightPx: number }): ImagePoint[] {
  const [cx, cy] = [photo.widthPx / 2, photo.heightPx * 0.42];
  const [halfWidth, halfHeight] = [photo.widthPx * 0.14, photo.heightPx * 0.26];
  const points = EVEN_COUNT;
  // A superellipse of exponent 5: straight sides, soft corners, one formula.
  return Array.from({ length: points }, (_, i) => {
    const angle = (2 * Math.PI * i) / points + Math.PI / 2;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const radius = (Math.abs(c) ** 5 + Math.abs(s) ** 5) ** (-1 / 5);
    return [cx + halfWidth * radius * c, cy + halfHeight * radius * s] as const;
  });
}

/** Distance along the closed polygon to each point, and the perimeter last. */
function distancesAlong(points: readonly ImagePoint[]): number[] {
  const along = [0];
  for (let i = 0; i < points.length; i += 1) {
    const [x, y] = points[i];
    const [nextX, nextY] = points[(i + 1) % points.length];
    along.push(along[i] + Math.hypot(nextX - x, nextY - y));
  }
  return along;
}
