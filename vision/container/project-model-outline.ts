import { castRay, projectPoint, RAY_SIZE } from '../geometry/camera-ray.ts';
import { rotateRay } from '../geometry/grazing-ray.ts';
import { multiply, type Vector3 } from '../geometry/linear3.ts';
import { findNearestFeature, type NearestFeature, type Polyline } from '../geometry/solid-of-revolution.ts';
import { cameraPoint, containerFromCamera, eyeInContainer, type ModelState } from './container-model.ts';
import type { ContainerFit } from './fit-container.ts';

/** A point of the outline that the model draws, with the unit normal pointing out of the container. */
export interface ModelOutlinePoint {
  readonly xPx: number;
  readonly yPx: number;
  readonly normalX: number;
  readonly normalY: number;
  /** Height over the base of the surface point that is seen there, mm. */
  readonly zMm: number;
}

/** Contour points that the container itself hides by more than this are no outline, mm. */
const HIDDEN_MM = 0.02;
const ARC_STEP_RAD = 0.04;
const PIECE_STEP_SHARE = 0.008;

/**
 * The outline of the fitted container in the image, about every `spacingPx`, once round: up one side and down the other.
 * Where one part of the container hides another the outline jumps, as it does in the photo. Parts behind the card or
 * outside the frame are included.
 */
export function projectModelOutline(
  { model, solution }: Pick<ContainerFit, 'model' | 'solution'>,
  { spacingPx }: { readonly spacingPx: number },
): readonly ModelOutlinePoint[] {
  const state = model.stateAt(solution.parameters);
  return state ? projectSolidOutline(model.curve, state, spacingPx) : [];
}

/** Where a solid is and which camera sees it; parts of a ModelState. */
export type View = Pick<ModelState, 'camera' | 'rotation' | 'translationMm' | 'containerRotation' | 'baseCentreMm'>;

/** The outline of any surface of revolution, as `projectModelOutline`. */
export function projectSolidOutline(solid: Polyline, view: View, spacingPx: number): readonly ModelOutlinePoint[] {
  const contour = contourOfSolid(solid, eyeInContainer(view));
  const seen = contour.map((point) => imageOf(point, view)).filter((point) => point !== null);
  return resample(dropHidden(seen, solid, view), spacingPx);
}

interface ContourPoint {
  readonly point: Vector3;
  /** Outward surface normal in the container frame. */
  readonly normal: Vector3;
}

/**
 * Where the surface's normal is at right angles to the line of sight. On a cone piece with slope m that is at the
 * azimuths φ with D cos(φ − φ_eye) = r − m (z − z_eye), D the eye's distance from the axis; between two pieces
 * the contour runs along the vertex circle from one azimuth to the next. The end discs are pieces of endless slope.
 */
function contourOfSolid(curve: Polyline, eye: Vector3): ContourPoint[] {
  const { count, zMm, radiusMm } = curve;
  const distance = Math.hypot(eye[0], eye[1]);
  const eyeAzimuth = Math.atan2(eye[1], eye[0]);
  const stepMm = zMm[count - 1] * PIECE_STEP_SHARE;
  const half: number[] = [eye[2] > 0 ? 0 : Math.PI];
  for (let i = 0; i + 1 < count; i++) {
    const slope = (radiusMm[i + 1] - radiusMm[i]) / (zMm[i + 1] - zMm[i]);
    const k = radiusMm[i] - slope * (zMm[i] - eye[2]);
    half.push(Math.acos(Math.min(Math.max(k / distance, -1), 1)));
  }
  half.push(eye[2] > zMm[count - 1] ? Math.PI : 0);

  const contour: ContourPoint[] = [];
  for (const side of [1, -1]) {
    const part: ContourPoint[] = [];
    for (let v = 0; v < count; v++) {
      const from = half[v];
      const to = half[v + 1];
      const steps = Math.max(1, Math.ceil(Math.abs(to - from) / ARC_STEP_RAD));
      for (let s = 0; s <= steps; s++) {
        const azimuth = eyeAzimuth + side * (from + ((to - from) * s) / steps);
        part.push(circlePoint(radiusMm[v], zMm[v], azimuth, eye));
      }
      if (v + 1 === count) break;
      // along the straight line on the next piece, in steps short enough to see where something begins to hide it
      const pieces = Math.ceil((zMm[v + 1] - zMm[v]) / stepMm);
      for (let s = 1; s < pieces; s++) {
        const share = s / pieces;
        const radius = radiusMm[v] + share * (radiusMm[v + 1] - radiusMm[v]);
        part.push(circlePoint(radius, zMm[v] + share * (zMm[v + 1] - zMm[v]), eyeAzimuth + side * to, eye));
      }
    }
    contour.push(...(side === 1 ? part : part.reverse()));
  }
  return contour;
}

function circlePoint(radius: number, z: number, azimuth: number, eye: Vector3): ContourPoint {
  const ux = Math.cos(azimuth);
  const uy = Math.sin(azimuth);
  const point: Vector3 = [radius * ux, radius * uy, z];
  // the normal in the meridian plane that is at right angles to the line of sight
  const outwards = ux * (point[0] - eye[0]) + uy * (point[1] - eye[1]);
  const up = z - eye[2];
  const size = Math.hypot(outwards, up);
  const sign = up < 0 ? -1 : 1;
  return { point, normal: [(sign * ux * up) / size, (sign * uy * up) / size, (-sign * outwards) / size] };
}

function imageOf({ point, normal }: ContourPoint, state: View): ModelOutlinePoint | null {
  const [x, y, z] = cameraPoint(state, point);
  if (z < 1) return null;
  const [xPx, yPx] = projectPoint(state.camera, x, y, z);
  const ray = new Float64Array(RAY_SIZE);
  if (!castRay(state.camera, xPx, yPx, ray)) return null;
  const n = multiply(state.rotation, multiply(state.containerRotation, normal));
  const byU = n[0] * ray[2] + n[1] * ray[4];
  const byV = n[0] * ray[3] + n[1] * ray[5];
  const size = Math.hypot(byU, byV);
  return { xPx, yPx, normalX: byU / size, normalY: byV / size, zMm: point[2] };
}

function dropHidden(points: readonly ModelOutlinePoint[], curve: Polyline, state: View): ModelOutlinePoint[] {
  const toContainer = containerFromCamera(state);
  const eye = eyeInContainer(state);
  const ray = new Float64Array(RAY_SIZE);
  const direction = new Float64Array(3);
  const feature: NearestFeature = { index: 0, isCircle: false, clearanceMm: 0 };
  return points.filter(({ xPx, yPx }) => {
    if (!castRay(state.camera, xPx, yPx, ray)) return false;
    rotateRay(toContainer, ray[0], ray[1], 1, direction);
    findNearestFeature(curve, eye, direction[0], direction[1], direction[2], feature);
    return feature.clearanceMm > -HIDDEN_MM;
  });
}

/** Walks along the points and sets one down every spacingPx, in between where they are far apart. */
function resample(points: readonly ModelOutlinePoint[], spacingPx: number): ModelOutlinePoint[] {
  if (points.length < 2) return [...points];
  const result: ModelOutlinePoint[] = [];
  let untilNext = 0;
  for (let i = 0; i < points.length; i++) {
    const a = points[i];
    const b = points[(i + 1) % points.length];
    const length = Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx);
    while (untilNext < length) {
      result.push(between(a, b, untilNext / length));
      untilNext += spacingPx;
    }
    untilNext -= length;
  }
  return result;
}

function between(a: ModelOutlinePoint, b: ModelOutlinePoint, share: number): ModelOutlinePoint {
  const mix = (p: number, q: number) => p + share * (q - p);
  const normalX = mix(a.normalX, b.normalX);
  const normalY = mix(a.normalY, b.normalY);
  const size = Math.hypot(normalX, normalY) || 1;
  return {
    xPx: mix(a.xPx, b.xPx),
    yPx: mix(a.yPx, b.yPx),
    normalX: normalX / size,
    normalY: normalY / size,
    zMm: mix(a.zMm, b.zMm),
  };
}
