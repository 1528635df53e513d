/**
 * Pinhole camera with one radial term, in the upright full-size image:
 * x = X/Z, y = Y/Z, u = f x (1 + k1 r²) + cx, v = f y (1 + k1 r²) + cy with r² = x² + y².
 * Source: the first radial term of Brown's model, as in OpenCV's projectPoints; tests/published/camera-opencv.test.ts.
 */
export interface Camera {
  readonly focalPx: number;
  readonly centreXPx: number;
  readonly centreYPx: number;
  readonly k1: number;
}

/** Layout of what `castRay` writes: the ray is (x, y, 1) in the camera frame, with its derivatives. */
export const RAY_SIZE = 8;
const X = 0;
const Y = 1;
const X_BY_U = 2;
const X_BY_V = 3;
const Y_BY_U = 4;
const Y_BY_V = 5;
const X_BY_K1 = 6;
const Y_BY_K1 = 7;

/**
 * The viewing ray of a pixel: [x, y, ∂x/∂u, ∂x/∂v, ∂y/∂u, ∂y/∂v, ∂x/∂k1, ∂y/∂k1].
 * ∂/∂centre is minus ∂/∂(u, v); ∂/∂ln f is −(u − cx) ∂/∂u − (v − cy) ∂/∂v.
 * @returns false where the distortion folds over (1 + 3 k1 r² ≤ 0) and the pixel has no ray
 */
export function castRay(camera: Camera, uPx: number, vPx: number, ray: Float64Array): boolean {
  const f = camera.focalPx;
  const xd = (uPx - camera.centreXPx) / f;
  const yd = (vPx - camera.centreYPx) / f;
  const k1 = camera.k1;
  const rd = Math.sqrt(xd * xd + yd * yd);
  let r = rd;
  for (let i = 0; i < 8 && k1 !== 0; i++) {
    const slope = 1 + 3 * k1 * r * r;
    if (slope <= 0.1) return false;
    const change = (r + k1 * r * r * r - rd) / slope;
    r -= change;
    if (Math.abs(change) < 1e-14) break;
  }
  const radial = 1 + k1 * r * r;
  const x = xd / radial;
  const y = yd / radial;
  const along = (2 * k1) / (radial + 2 * k1 * r * r);
  ray[X] = x;
  ray[Y] = y;
  ray[X_BY_U] = (1 - along * x * x) / (radial * f);
  ray[X_BY_V] = (-along * x * y) / (radial * f);
  ray[Y_BY_U] = ray[X_BY_V];
  ray[Y_BY_V] = (1 - along * y * y) / (radial * f);
  ray[X_BY_K1] = -f * (ray[X_BY_U] * x + ray[X_BY_V] * y) * r * r;
  ray[Y_BY_K1] = -f * (ray[Y_BY_U] * x + ray[Y_BY_V] * y) * r * r;
  return true;
}

/** Image of a point in the camera frame (mm, z > 0), px. */
export function projectPoint(camera: Camera, x: number, y: number, z: number): [xPx: number, yPx: number] {
  const xn = x / z;
  const yn = y / z;
  const radial = camera.focalPx * (1 + camera.k1 * (xn * xn + yn * yn));
  return [radial * xn + camera.centreXPx, radial * yn + camera.centreYPx];
}
