import type { FlatReference } from '../reference/reference.ts';
import { type Camera, castRay, projectPoint, RAY_SIZE } from './camera-ray.ts';
import type { CornersPx } from './frames.ts';
import { leastSquares } from './least-squares.ts';
import {
  add,
  cross,
  dot,
  leftJacobian,
  type Matrix3,
  multiply,
  multiplyMatrices,
  norm,
  rotationFromVector,
  scale,
  subtract,
  unit,
  type Vector3,
} from './linear3.ts';

/** cameraFromCard: X_camera = rotation · X_card + translationMm. */
export interface CardPose {
  readonly rotation: Matrix3;
  readonly translationMm: Vector3;
  /** Root mean square distance of the projected corners from the observed ones, px. */
  readonly cornerErrorPx: number;
}

/** Corners of the visible face in the card frame (mm), in the order of the observed corners (clockwise as seen). */
export function cardCornersMm(reference: FlatReference, longSide: 0 | 1): readonly Vector3[] {
  const x = reference.widthMm / 2;
  const y = reference.heightMm / 2;
  const corners: Vector3[] = [
    [-x, y, 0],
    [x, y, 0],
    [x, -y, 0],
    [-x, -y, 0],
  ];
  return longSide === 0 ? corners : [corners[3], corners[0], corners[1], corners[2]];
}

/**
 * Both poses under which a plane looks nearly alike, better one first; one only when they coincide.
 * A plane seen from afar and its mirror image about the line of sight can hardly be told apart
 * (Schweighofer & Pinz, Robust Pose Estimation from a Planar Target, 2006), so the caller lets more data choose.
 * Empty when the corners are no perspective view of a rectangle.
 */
export function cardPoses(
  cornersPx: CornersPx,
  longSide: 0 | 1,
  reference: FlatReference,
  camera: Camera,
): readonly CardPose[] {
  const points = cardCornersMm(reference, longSide);
  const first = poseFromHomography(cornersPx, points, camera);
  if (!first) return [];
  const better = refinePose(first, cornersPx, points, camera);
  if (!better) return [];
  const mirrored = mirroredPose(better);
  const other = mirrored && refinePose(mirrored, cornersPx, points, camera);
  if (!other || sameNormal(better, other)) return [better];
  return [better, other].sort((a, b) => a.cornerErrorPx - b.cornerErrorPx);
}

/** Mirror image about the line of sight to the middle; null when it is the same. */
export function mirroredPose({
  rotation,
  translationMm,
}: Omit<CardPose, 'cornerErrorPx'>): Omit<CardPose, 'cornerErrorPx'> | null {
  const sight = unit(translationMm);
  const normal = multiply(rotation, [0, 0, 1]);
  const mirrored = subtract(scale(sight, 2 * dot(sight, normal)), normal);
  const turn = cross(normal, mirrored);
  const angle = Math.atan2(norm(turn), dot(normal, mirrored));
  if (angle < 0.02) return null;
  return { rotation: multiplyMatrices(rotationFromVector(scale(unit(turn), angle)), rotation), translationMm };
}

/** Angle between the line of sight to the card's centre and the card's normal: 0 seen square-on, π/2 edge-on. */
export function cardTiltRad(rotation: Matrix3, translationMm: Vector3): number {
  const normal = multiply(rotation, [0, 0, 1]);
  return Math.acos(Math.min(Math.max(-dot(normal, unit(translationMm)), -1), 1));
}

/**
 * Focal length that makes the card's sides perpendicular and in proportion, px; null when its view says nothing
 * (seen square-on). Source: orthogonality of the homography's first two columns (Zhang 2000), skew 0, square pixels.
 */
export function focalFromCard(
  cornersPx: CornersPx,
  longSide: 0 | 1,
  reference: FlatReference,
  centreXPx: number,
  centreYPx: number,
): number | null {
  const h = homography(
    cardCornersMm(reference, longSide),
    cornersPx.map(([x, y]) => [x - centreXPx, y - centreYPx] as const),
  );
  if (!h) return null;
  // h1ᵀ ω h2 = 0 and h1ᵀ ω h1 = h2ᵀ ω h2 with ω = diag(w, w, 1), w = 1/f²: weighted least squares for w
  const a1 = h[0] * h[1] + h[3] * h[4];
  const b1 = h[6] * h[7];
  const a2 = h[0] * h[0] + h[3] * h[3] - h[1] * h[1] - h[4] * h[4];
  const b2 = h[6] * h[6] - h[7] * h[7];
  const w = -(4 * a1 * b1 + a2 * b2) / (4 * a1 * a1 + a2 * a2);
  return w > 0 && Number.isFinite(w) ? 1 / Math.sqrt(w) : null;
}

function sameNormal(a: CardPose, b: CardPose): boolean {
  return dot(multiply(a.rotation, [0, 0, 1]), multiply(b.rotation, [0, 0, 1])) > Math.cos(0.01);
}

function poseFromHomography(
  cornersPx: CornersPx,
  points: readonly Vector3[],
  camera: Camera,
): Omit<CardPose, 'cornerErrorPx'> | null {
  const ray = new Float64Array(RAY_SIZE);
  const rays: [number, number][] = [];
  for (const [x, y] of cornersPx) {
    if (!castRay(camera, x, y, ray)) return null;
    rays.push([ray[0], ray[1]]);
  }
  const h = homography(points, rays);
  if (!h) return null;
  const sign = h[8] < 0 ? -1 : 1;
  const h1: Vector3 = [sign * h[0], sign * h[3], sign * h[6]];
  const h2: Vector3 = [sign * h[1], sign * h[4], sign * h[7]];
  const h3: Vector3 = [sign * h[2], sign * h[5], sign * h[8]];
  const size = Math.sqrt(norm(h1) * norm(h2));
  if (!(size > 0)) return null;
  // nearest orthogonal pair to two unit vectors: turn both equally away from their bisector
  const bisector = unit(add(unit(h1), unit(h2)));
  const difference = unit(subtract(unit(h1), unit(h2)));
  const x = scale(add(bisector, difference), Math.SQRT1_2);
  const y = scale(subtract(bisector, difference), Math.SQRT1_2);
  const z = cross(x, y);
  return {
    rotation: [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]],
    translationMm: scale(h3, 1 / size),
  };
}

function refinePose(
  start: Omit<CardPose, 'cornerErrorPx'>,
  cornersPx: CornersPx,
  points: readonly Vector3[],
  camera: Camera,
): CardPose | null {
  const evaluate = (parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array | null): boolean => {
    const w: Vector3 = [parameters[0], parameters[1], parameters[2]];
    const rotation = multiplyMatrices(rotationFromVector(w), start.rotation);
    const jw = leftJacobian(w);
    for (let i = 0; i < 4; i++) {
      const turned = multiply(rotation, points[i]);
      const x = turned[0] + parameters[3];
      const y = turned[1] + parameters[4];
      const z = turned[2] + parameters[5];
      if (z < 1) return false;
      const [u, v] = projectPoint(camera, x, y, z);
      residuals[2 * i] = u - cornersPx[i][0];
      residuals[2 * i + 1] = v - cornersPx[i][1];
      if (!jacobian) continue;
      const xn = x / z;
      const yn = y / z;
      const radial = camera.focalPx * (1 + camera.k1 * (xn * xn + yn * yn));
      const bend = 2 * camera.focalPx * camera.k1;
      const byPoint: Vector3[] = [
        [radial + bend * xn * xn, bend * xn * yn, -radial * xn - bend * xn * (xn * xn + yn * yn)],
        [bend * xn * yn, radial + bend * yn * yn, -radial * yn - bend * yn * (xn * xn + yn * yn)],
      ];
      for (let row = 0; row < 2; row++) {
        const gradient = scale(byPoint[row], 1 / z);
        const byTurn = cross(turned, gradient);
        for (let k = 0; k < 3; k++) {
          jacobian[(2 * i + row) * 6 + k] = jw[k] * byTurn[0] + jw[3 + k] * byTurn[1] + jw[6 + k] * byTurn[2];
          jacobian[(2 * i + row) * 6 + 3 + k] = gradient[k];
        }
      }
    }
    return true;
  };
  const fit = leastSquares({ parameterCount: 6, residualCount: 8, evaluate }, [0, 0, 0, ...start.translationMm], {
    maxIterations: 30,
  });
  if (!fit) return null;
  const [wx, wy, wz, tx, ty, tz] = fit.parameters;
  return {
    rotation: multiplyMatrices(rotationFromVector([wx, wy, wz]), start.rotation),
    translationMm: [tx, ty, tz],
    cornerErrorPx: Math.sqrt(fit.cost / 4),
  };
}

/** Plane-to-plane homography from exactly four points (row-major 3 × 3), null when three are collinear. */
export function homography(
  from: readonly (readonly [number, number, ...number[]])[],
  to: readonly (readonly [number, number])[],
): number[] | null {
  const a = basisToPoints(from);
  const b = basisToPoints(to);
  if (!a || !b) return null;
  return multiplyMatrices(b, adjugate(a));
}

/** Homography that takes the projective basis to four points. Source: Heckbert, Fundamentals of Texture Mapping (1989). */
function basisToPoints(points: readonly (readonly [number, number, ...number[]])[]): number[] | null {
  const [a, b, c, d] = points;
  const m = [a[0], b[0], c[0], a[1], b[1], c[1], 1, 1, 1];
  const inverse = adjugate(m);
  const weights = multiply(inverse, [d[0], d[1], 1]);
  const determinant = m[0] * inverse[0] + m[1] * inverse[3] + m[2] * inverse[6];
  const size = Math.max(...weights.map(Math.abs));
  if (!(Math.abs(determinant) > 1e-12 * size) || weights.some((w) => Math.abs(w) < 1e-6 * size)) return null;
  return m.map((value, i) => value * (weights[i % 3] / size));
}

function adjugate(m: Matrix3): number[] {
  return [
    m[4] * m[8] - m[5] * m[7],
    m[2] * m[7] - m[1] * m[8],
    m[1] * m[5] - m[2] * m[4],
    m[5] * m[6] - m[3] * m[8],
    m[0] * m[8] - m[2] * m[6],
    m[2] * m[3] - m[0] * m[5],
    m[3] * m[7] - m[4] * m[6],
    m[1] * m[6] - m[0] * m[7],
    m[0] * m[4] - m[1] * m[3],
  ];
}
