/** Three-vectors and rotation matrices (row-major, length 9) as plain arrays; used by the camera and container model. */
export type Vector3 = readonly [number, number, number];
export type Matrix3 = readonly number[];

export const add = (a: Vector3, b: Vector3): Vector3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vector3, b: Vector3): Vector3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vector3, s: number): Vector3 => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const norm = (a: Vector3): number => Math.hypot(a[0], a[1], a[2]);
export const unit = (a: Vector3): Vector3 => scale(a, 1 / norm(a));
export const cross = (a: Vector3, b: Vector3): Vector3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

export const multiply = (m: Matrix3, v: Vector3): Vector3 => [
  m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
  m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
  m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
];

/** mᵀ v: the inverse rotation when m is a rotation. */
export const multiplyTransposed = (m: Matrix3, v: Vector3): Vector3 => [
  m[0] * v[0] + m[3] * v[1] + m[6] * v[2],
  m[1] * v[0] + m[4] * v[1] + m[7] * v[2],
  m[2] * v[0] + m[5] * v[1] + m[8] * v[2],
];

export function multiplyMatrices(a: Matrix3, b: Matrix3): number[] {
  const product = new Array<number>(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      product[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
    }
  }
  return product;
}

/** Rotation by |w| rad about w (Rodrigues' formula). */
export function rotationFromVector(w: Vector3): number[] {
  const angle = norm(w);
  const s = angle < 1e-9 ? 1 : Math.sin(angle) / angle;
  const c = angle < 1e-5 ? 0.5 - (angle * angle) / 24 : (1 - Math.cos(angle)) / (angle * angle);
  return skewSeries(w, s, c);
}

/**
 * Left Jacobian of the exponential map: exp(w + δ) ≈ exp(J δ) exp(w).
 * Source: closed form for SO(3), e.g. Barfoot, State Estimation for Robotics, eq. 7.77b.
 */
export function leftJacobian(w: Vector3): number[] {
  const angle = norm(w);
  const b = angle < 1e-5 ? 0.5 - (angle * angle) / 24 : (1 - Math.cos(angle)) / (angle * angle);
  const c = angle < 1e-4 ? 1 / 6 - (angle * angle) / 120 : (angle - Math.sin(angle)) / angle ** 3;
  return skewSeries(w, b, c);
}

/** I + s [w]× + c [w]×². */
function skewSeries([x, y, z]: Vector3, s: number, c: number): number[] {
  return [
    1 - c * (y * y + z * z),
    c * x * y - s * z,
    c * x * z + s * y,
    c * x * y + s * z,
    1 - c * (x * x + z * z),
    c * y * z - s * x,
    c * x * z - s * y,
    c * y * z + s * x,
    1 - c * (x * x + y * y),
  ];
}

/** Some unit vector at right angles to a. */
export function anyPerpendicular(a: Vector3): Vector3 {
  const helper: Vector3 = Math.abs(a[2]) < 0.8 * norm(a) ? [0, 0, 1] : [1, 0, 0];
  return unit(cross(a, helper));
}
