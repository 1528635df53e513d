import type { Camera } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { cross, dot, norm, scale, subtract, unit, type Vector3 } from '../geometry/linear3.ts';

/**
 * The photo as seen around an axis direction: columns are azimuths about that direction through the camera's centre,
 * rows are the elevation over the plane across it, both drawn by Mercator's projection so that angles stay true.
 * In this view the outline of every solid of revolution whose axis has that direction is exactly mirror-symmetric about
 * one column, wherever the solid stands: the camera centre and the axis span a plane of symmetry, which is a meridian.
 */
export interface AxisView {
  readonly columns: number;
  readonly rows: number;
  readonly viewPxPerRad: number;
  /** Unit vector of the axis in the camera frame, pointing towards the first row. */
  readonly axis: Vector3;
  readonly camera: Camera;
  /** @internal */
  readonly right: Vector3;
  /** @internal */
  readonly forward: Vector3;
  /** @internal View coordinates of azimuth 0 and elevation 0. */
  readonly origin: readonly [number, number];
}

/** Closer to the line of sight than this an axis has no sides to see. */
const LEAST_ANGLE_TO_SIGHT_RAD = 0.3;

/**
 * A view that contains all the given image points.
 * @param longSide  of the view, view px
 * @returns null when the axis points almost at the camera anywhere in the region, or the region is empty
 */
export function axisView(
  camera: Camera,
  axis: Vector3,
  containsPx: readonly ImagePoint[],
  longSide: number,
): AxisView | null {
  if (containsPx.length === 0) return null;
  const rays = containsPx.map((at) => rayOf(camera, at));
  const middle = unit(
    rays.reduce<Vector3>((sum, ray) => [sum[0] + ray[0], sum[1] + ray[1], sum[2] + ray[2]], [0, 0, 0]),
  );
  const across = subtract(middle, scale(axis, dot(middle, axis)));
  if (norm(across) < Math.sin(LEAST_ANGLE_TO_SIGHT_RAD)) return null;
  const forward = unit(across);
  const right = cross(forward, axis);
  let [left, top, rightmost, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ray of rays) {
    const at = mercator(ray, axis, right, forward);
    if (!at || Math.abs(at[0]) > 1.5 || Math.abs(at[1]) > 2) continue;
    left = Math.min(left, at[0]);
    rightmost = Math.max(rightmost, at[0]);
    top = Math.min(top, at[1]);
    bottom = Math.max(bottom, at[1]);
  }
  const extent = Math.max(rightmost - left, bottom - top);
  if (!(extent > 0)) return null;
  const viewPxPerRad = (longSide - 1) / extent;
  return {
    columns: Math.max(Math.round((rightmost - left) * viewPxPerRad) + 1, 8),
    rows: Math.max(Math.round((bottom - top) * viewPxPerRad) + 1, 8),
    viewPxPerRad,
    axis,
    camera,
    right,
    forward,
    origin: [-left * viewPxPerRad, -top * viewPxPerRad],
  };
}

/** Image point of a view point; null behind the camera. */
export function imageFromView(view: AxisView, column: number, row: number): ImagePoint | null {
  const ray = directionFromView(view, column, row);
  if (ray[2] < 0.05) return null;
  const { focalPx, centreXPx, centreYPx } = view.camera;
  return [(focalPx * ray[0]) / ray[2] + centreXPx, (focalPx * ray[1]) / ray[2] + centreYPx];
}

/** View point [column, row] of an image point; null for rays along the axis. */
export function viewFromImage(view: AxisView, at: ImagePoint): readonly [column: number, row: number] | null {
  const place = mercator(rayOf(view.camera, at), view.axis, view.right, view.forward);
  if (!place) return null;
  return [place[0] * view.viewPxPerRad + view.origin[0], place[1] * view.viewPxPerRad + view.origin[1]];
}

/** Photo pixels per view pixel around a view point. */
export function imagePxPerViewPx(view: AxisView, column: number, row: number): number {
  const ray = directionFromView(view, column, row);
  const latitude = (view.origin[1] - row) / view.viewPxPerRad;
  // conformal on the sphere: 1 view px spans cos(elevation) / viewPxPerRad; the flat image stretches that by about 1/z²..1/z
  return view.camera.focalPx / (Math.cosh(latitude) * view.viewPxPerRad * Math.max(ray[2], 0.2) ** 1.5);
}

function directionFromView(view: AxisView, column: number, row: number): Vector3 {
  const azimuth = (column - view.origin[0]) / view.viewPxPerRad;
  const tangent = Math.sinh((view.origin[1] - row) / view.viewPxPerRad);
  const length = Math.sqrt(1 + tangent * tangent);
  const s = Math.sin(azimuth);
  const c = Math.cos(azimuth);
  const { right, forward, axis } = view;
  return [
    (s * right[0] + c * forward[0] + tangent * axis[0]) / length,
    (s * right[1] + c * forward[1] + tangent * axis[1]) / length,
    (s * right[2] + c * forward[2] + tangent * axis[2]) / length,
  ];
}

function mercator(ray: Vector3, axis: Vector3, right: Vector3, forward: Vector3): [number, number] | null {
  const x = dot(ray, right);
  const z = dot(ray, forward);
  const across = Math.hypot(x, z);
  if (across < 1e-6) return null;
  return [Math.atan2(x, z), -Math.asinh(dot(ray, axis) / across)];
}

function rayOf(camera: Camera, [x, y]: ImagePoint): Vector3 {
  return unit([(x - camera.centreXPx) / camera.focalPx, (y - camera.centreYPx) / camera.focalPx, 1]);
}
