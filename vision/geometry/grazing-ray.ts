import type { OutlinePoint } from '../sighting.ts';
import { type Camera, castRay, RAY_SIZE } from './camera-ray.ts';
import type { Matrix3, Vector3 } from './linear3.ts';
import {
  findNearestFeature,
  type NearestFeature,
  type Polyline,
  stepToTouch,
  touchingParameter,
} from './solid-of-revolution.ts';

/** A surface of revolution as a camera sees it. */
export interface SeenSolid {
  readonly solid: Polyline;
  /** Rotation part of solidFromCamera. */
  readonly toSolid: Matrix3;
  /** The camera's place in the solid's frame, mm. */
  readonly eye: Vector3;
}

/** Where a ray touches, in the solid's frame. */
export interface TouchedPlace {
  readonly point: Vector3;
  readonly normal: Vector3;
  /** The same normal in the meridian plane. */
  readonly radial: number;
  readonly axial: number;
  /** The touched piece runs from this vertex to the next; how far along it the place is. */
  readonly vertex: number;
  readonly share: number;
}

const MAX_STEPS = 8;
const TOUCHED_PX = 1e-4;
/** After a step shorter than this the ray touches the same piece or one close by. */
const NEARBY_PX = 2;
const NEARBY_PIECES = 3;

/** The ray of an outline sample, shifted along the sample's normal until it grazes a solid. One serves many samples. */
export class GrazingRay {
  /** As castRay writes it. */
  readonly ray = new Float64Array(RAY_SIZE);
  shiftPx = 0;
  touches = false;
  /** Ray parameter of the touching point: its depth in the camera frame, mm. */
  t = 0;
  private readonly direction = new Float64Array(3);
  private readonly change = new Float64Array(3);
  private readonly feature: NearestFeature = { index: 0, isCircle: false, clearanceMm: 0 };

  /** @returns false where a pixel has no ray */
  graze(camera: Camera, { solid, toSolid, eye }: SeenSolid, point: OutlinePoint): boolean {
    const { ray, direction, change, feature } = this;
    const { normalX, normalY } = point;
    let shift = 0;
    let touches = false;
    let step = Number.POSITIVE_INFINITY;
    for (let round = 0; round < MAX_STEPS; round++) {
      if (!castRay(camera, point.xPx + shift * normalX, point.yPx + shift * normalY, ray)) return false;
      rotateRay(toSolid, ray[0], ray[1], 1, direction);
      rotateRay(toSolid, ray[2] * normalX + ray[3] * normalY, ray[4] * normalX + ray[5] * normalY, 0, change);
      const within = Math.abs(step) < NEARBY_PX ? NEARBY_PIECES : Number.POSITIVE_INFINITY;
      findNearestFeature(solid, eye, direction[0], direction[1], direction[2], feature, within);
      step = stepToTouch(solid, feature, eye, direction, change);
      touches = Number.isFinite(step);
      if (!touches) step = -10;
      step = Math.min(Math.max(step, -300), 300);
      shift += step;
      if (Math.abs(step) < TOUCHED_PX) break;
    }
    this.shiftPx = shift;
    this.t = touchingParameter(solid, feature, eye, direction);
    this.touches = touches && Number.isFinite(this.t);
    return true;
  }

  /** Height of the touching point in the solid's frame, mm. */
  touchZMm({ eye }: SeenSolid): number {
    return eye[2] + this.t * this.direction[2];
  }

  /** Null on the axis, where the surface has no normal. */
  touchedPlace({ solid: { zMm, radiusMm }, eye }: SeenSolid): TouchedPlace | null {
    const { direction, feature, t } = this;
    const point: Vector3 = [eye[0] + t * direction[0], eye[1] + t * direction[1], eye[2] + t * direction[2]];
    const radius = Math.hypot(point[0], point[1]);
    if (!(radius > 1e-9)) return null;
    const ux = point[0] / radius;
    const uy = point[1] / radius;
    const v = feature.index;
    const share = feature.isCircle ? 0 : Math.min(Math.max((point[2] - zMm[v]) / (zMm[v + 1] - zMm[v]), 0), 1);
    let radial = 1;
    let axial = 0;
    if (feature.isCircle) {
      radial = Math.abs(direction[2]);
      axial = -Math.sign(direction[2]) * (ux * direction[0] + uy * direction[1]);
    } else {
      axial = -(radiusMm[v + 1] - radiusMm[v]) / (zMm[v + 1] - zMm[v]);
    }
    const size = Math.hypot(radial, axial);
    radial /= size;
    axial /= size;
    return { point, normal: [radial * ux, radial * uy, axial], radial, axial, vertex: v, share };
  }
}

export function rotateRay(m: Matrix3, x: number, y: number, z: number, out: Float64Array): void {
  out[0] = m[0] * x + m[1] * y + m[2] * z;
  out[1] = m[3] * x + m[4] * y + m[5] * z;
  out[2] = m[6] * x + m[7] * y + m[8] * z;
}
