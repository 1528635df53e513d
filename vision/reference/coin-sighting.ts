import { type Camera, projectPoint } from '../geometry/camera-ray.ts';
import { cardCornersMm } from '../geometry/card-pose.ts';
import { circlePoses } from '../geometry/circle-pose.ts';
import { type Ellipse, ellipseThrough, normalOn } from '../geometry/ellipse.ts';
import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import { add, multiply } from '../geometry/linear3.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { CardSide, CardSighting, OutlinePoint, RimSighting } from '../sighting.ts';
import type { FlatReference } from './reference.ts';

export interface CoinView {
  /** The square about the coin (round-reference.ts). */
  readonly reference: FlatReference;
  readonly focalPrior: FocalPrior;
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * A coin or disc as the card that it stands in for: its rim, and the square about its face.
 * @returns null when the rim is no ellipse
 */
export function coinSighting(
  rim: RimSighting,
  { reference, focalPrior, widthPx, heightPx }: CoinView,
): CardSighting | null {
  const camera: Camera = {
    focalPx: focalPrior.focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    k1: 0,
  };
  const rimPx = rim.points.map(({ xPx, yPx }): ImagePoint => [xPx, yPx]);
  const [pose] = circlePoses(rimPx, reference.widthMm / 2, camera);
  if (!pose) return null;
  const corners = cardCornersMm(reference, 0).map((corner) => add(multiply(pose.rotation, corner), pose.translationMm));
  if (corners.some(([, , depth]) => depth < 1)) return null;
  const cornersPx = corners.map((corner) => projectPoint(camera, ...corner)) as unknown as CornersPx;
  const side: CardSide = { edgePointsPx: [], sdPx: rim.haloSdPx };
  return { cornersPx, sides: [side, side, side, side], longSide: 0, score: 1, rim };
}

/** Edge samples of a rim from bare points on it, all round, each with the direction out of the coin; null on no ellipse. */
export function rimThrough(rimPx: readonly ImagePoint[], sdPx: number, haloSdPx: number): RimSighting | null {
  const ellipse = ellipseThrough(rimPx);
  if (!ellipse) return null;
  const points = rimPx.map(([xPx, yPx]): OutlinePoint => {
    const [normalX, normalY] = normalNear(ellipse, [xPx, yPx]);
    return { xPx, yPx, normalX, normalY, sdPx };
  });
  return { points, haloSdPx };
}

function normalNear(ellipse: Ellipse, [x, y]: ImagePoint): ImagePoint {
  const { middle, long, short, turnRad } = ellipse;
  const [dx, dy] = [x - middle[0], y - middle[1]];
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  return normalOn(ellipse, Math.atan2((c * dy - s * dx) / short, (c * dx + s * dy) / long));
}
