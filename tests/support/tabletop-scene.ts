import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';

/** A frustum standing at the origin of a table (z up), a bank card lying on it, and a camera looking at both. */
export interface TabletopScene {
  readonly baseRadiusMm: number;
  readonly topRadiusMm: number;
  readonly heightMm: number;
  /** Of the card's centre, on the table. */
  readonly cardXMm: number;
  readonly cardYMm: number;
  readonly cardTurnRad: number;
  /** Of the lens over the table. */
  readonly elevationRad: number;
  readonly distanceMm: number;
  readonly focalPx: number;
}

export interface TabletopView {
  readonly cornersPx: CornersPx;
  readonly outlinePx: readonly ImagePoint[];
  /** Whether all of it lies before the camera. */
  readonly inFront: boolean;
}

export const WIDTH_PX = 3024;
export const HEIGHT_PX = 4032;
/** ISO/IEC 7810 ID-1. */
const CARD_MM = [85.6, 53.98];
const RIM_POINTS = 120;

/**
 * The view of a pinhole camera, written apart from the product's own camera. A frustum is the convex hull of its two
 * rims, so its outline is the convex hull of their images; what lies behind the camera is projected all the same.
 */
export function viewTabletop(scene: TabletopScene): TabletopView {
  const { elevationRad: e, distanceMm, focalPx } = scene;
  const lookAt = [scene.cardXMm / 2, scene.cardYMm / 2, scene.heightMm / 2];
  let inFront = true;
  const project = (x: number, y: number, z: number): ImagePoint => {
    // the camera stands in the direction (0, -cos e, sin e) from what it looks at
    const [dx, dy, dz] = [x - lookAt[0], y - lookAt[1], z - lookAt[2]];
    const depth = distanceMm + dy * Math.cos(e) - dz * Math.sin(e);
    const down = -dz * Math.cos(e) - dy * Math.sin(e);
    if (!(depth > 0)) inFront = false;
    return [(WIDTH_PX - 1) / 2 + (focalPx * dx) / depth, (HEIGHT_PX - 1) / 2 + (focalPx * down) / depth];
  };
  const corner = (sx: number, sy: number): ImagePoint => {
    const [x, y] = [(sx * CARD_MM[0]) / 2, (sy * CARD_MM[1]) / 2];
    const [c, s] = [Math.cos(scene.cardTurnRad), Math.sin(scene.cardTurnRad)];
    return project(scene.cardXMm + c * x - s * y, scene.cardYMm + s * x + c * y, 0.76);
  };
  const rims: ImagePoint[] = [];
  for (let k = 0; k < RIM_POINTS; k += 1) {
    const [c, s] = [Math.cos((2 * Math.PI * k) / RIM_POINTS), Math.sin((2 * Math.PI * k) / RIM_POINTS)];
    rims.push(project(scene.baseRadiusMm * c, scene.baseRadiusMm * s, 0));
    rims.push(project(scene.topRadiusMm * c, scene.topRadiusMm * s, scene.heightMm));
  }
  const cornersPx: CornersPx = [corner(-1, 1), corner(1, 1), corner(1, -1), corner(-1, -1)];
  return { cornersPx, outlinePx: convexHull(rims), inFront };
}

/** Andrew's monotone chain. */
function convexHull(points: readonly ImagePoint[]): ImagePoint[] {
  const sorted = [...points].sort(([ax, ay], [bx, by]) => ax - bx || ay - by);
  const half = (ordered: readonly ImagePoint[]) => {
    const hull: ImagePoint[] = [];
    for (const point of ordered) {
      while (hull.length > 1 && turn(hull[hull.length - 2], hull[hull.length - 1], point) <= 0) hull.pop();
      hull.push(point);
    }
    return hull.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

function turn([ax, ay]: ImagePoint, [bx, by]: ImagePoint, [cx, cy]: ImagePoint): number {
  return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}
