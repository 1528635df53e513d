import type { ImagePoint } from './frames.ts';
import { invertSymmetric } from './least-squares.ts';

/** Half axes, and the turn of the long one against the image's x. */
export interface Ellipse {
  readonly middle: ImagePoint;
  readonly long: number;
  readonly short: number;
  readonly turnRad: number;
}

const COEFFICIENTS = 5;

/**
 * Ellipse through points: A x² + B xy + C y² + D x + E y = 1 by least squares, in coordinates about their mean and scaled
 * by their spread.
 * @returns null when the conic is no ellipse
 */
export function ellipseThrough(points: readonly ImagePoint[]): Ellipse | null {
  const n = points.length;
  const [mx, my] = [0, 1].map((k) => points.reduce((sum, point) => sum + point[k] / n, 0));
  const spread = Math.sqrt(points.reduce((sum, [x, y]) => sum + ((x - mx) ** 2 + (y - my) ** 2) / n, 0));
  const normal = new Float64Array(COEFFICIENTS ** 2);
  const right = new Float64Array(COEFFICIENTS);
  for (const [x, y] of points) {
    const [u, v] = [(x - mx) / spread, (y - my) / spread];
    const row = [u * u, u * v, v * v, u, v];
    for (let i = 0; i < COEFFICIENTS; i++) {
      right[i] += row[i];
      for (let j = 0; j < COEFFICIENTS; j++) normal[i * COEFFICIENTS + j] += row[i] * row[j];
    }
  }
  const inverse = invertSymmetric(normal, COEFFICIENTS);
  if (!inverse) return null;
  const [a, b, c, d, e] = [0, 1, 2, 3, 4].map((i) =>
    right.reduce((sum, value, j) => sum + inverse[i * COEFFICIENTS + j] * value, 0),
  );
  const determinant = 4 * a * c - b * b;
  if (!(determinant > 0)) return null;
  const [u, v] = [(b * e - 2 * c * d) / determinant, (b * d - 2 * a * e) / determinant];
  const level = 1 + a * u * u + b * u * v + c * v * v;
  const [mean, half] = [(a + c) / 2, Math.hypot((a - c) / 2, b / 2)];
  const [long2, short2] = [level / (mean - half), level / (mean + half)];
  if (!(long2 > 0 && short2 > 0)) return null;
  return {
    middle: [mx + spread * u, my + spread * v],
    long: spread * Math.sqrt(long2),
    short: spread * Math.sqrt(short2),
    turnRad: Math.atan2(-b, c - a) / 2,
  };
}

export function pointOn({ middle, long, short, turnRad }: Ellipse, angleRad: number): ImagePoint {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const [u, v] = [long * Math.cos(angleRad), short * Math.sin(angleRad)];
  return [middle[0] + c * u - s * v, middle[1] + s * u + c * v];
}

/** Unit vector out of the ellipse at a point of it. */
export function normalOn({ long, short, turnRad }: Ellipse, angleRad: number): ImagePoint {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const [u, v] = [Math.cos(angleRad) / long, Math.sin(angleRad) / short];
  const size = Math.hypot(u, v);
  return [(c * u - s * v) / size, (s * u + c * v) / size];
}
