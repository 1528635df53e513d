import { homography } from '../geometry/card-pose.ts';
import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import { multiply } from '../geometry/linear3.ts';
import type { CardSighting } from '../sighting.ts';
import { type CoinView, coinSighting, rimThrough } from './coin-sighting.ts';
import { clockwise } from './refine-card.ts';

const RIM_POINTS = 16;

/**
 * A coin from the corners of the square about it, placed by hand, no pixel looked at.
 * @param sdPx  standard uncertainty of each corner in each direction, px
 * @returns null when the four points cannot be the view of a square
 */
export function placeCoin(cornersPx: CornersPx, view: CoinView, sdPx: number): CardSighting | null {
  const rimPx = rimInSquare(cornersPx, RIM_POINTS);
  // sixteen samples say what eight coordinates do: each is worth half a point
  const rim = rimPx && rimThrough(rimPx, Math.SQRT2 * sdPx, sdPx / 2);
  const sighting = rim && coinSighting(rim, view);
  return sighting && { ...sighting, cornersPx };
}

/**
 * A coin from points on its rim, placed by hand.
 * @param sdPx  standard uncertainty of each, px
 * @returns null when they lie on no ellipse
 */
export function coinOfRim(rimPx: readonly ImagePoint[], view: CoinView, sdPx: number): CardSighting | null {
  const rim = rimThrough(rimPx, sdPx, sdPx / 2);
  return rim && coinSighting(rim, view);
}

/** The circle that touches the sides of a square seen in perspective, as points all round; null for no such square. */
export function rimInSquare(cornersPx: CornersPx, count: number): readonly ImagePoint[] | null {
  const [ax, ay, bx, by, cx, cy, dx, dy] = clockwise(cornersPx);
  const square = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const;
  const view = homography(square, [
    [ax, ay],
    [bx, by],
    [cx, cy],
    [dx, dy],
  ]);
  if (!view) return null;
  const rim = Array.from({ length: count }, (_, k): ImagePoint => {
    const turn = (2 * Math.PI * k) / count;
    const [x, y, w] = multiply(view, [Math.cos(turn), Math.sin(turn), 1]);
    return [x / w, y / w];
  });
  return rim.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)) ? rim : null;
}
