import { projectPoint } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { add, multiply, multiplyMatrices, scale, subtract, type Vector3 } from '../geometry/linear3.ts';
import type { Polyline } from '../geometry/solid-of-revolution.ts';
import type { PhotoView, ProfilePoint } from '../measurement.ts';
import { cameraPoint, type ModelState } from './container-model.ts';
import { type ModelOutlinePoint, projectSolidOutline, type View } from './project-model-outline.ts';

/** A solid of revolution before the camera that took the photo: all that is needed to draw it over the picture. */
export interface SolidInView {
  readonly view: PhotoView;
  /** From the base upwards, z from 0 to the height. */
  readonly profile: readonly Pick<ProfilePoint, 'zMm' | 'radiusMm'>[];
}

/** The solid of a model at one list of parameters. */
export function solidOf(state: ModelState, { count, zMm, radiusMm }: Polyline): SolidInView {
  return {
    view: {
      camera: state.camera,
      cameraFromContainer: {
        rotation: multiplyMatrices(state.rotation, state.containerRotation),
        translationMm: cameraPoint(state, [0, 0, 0]),
      },
    },
    profile: Array.from({ length: count }, (_, v) => ({ zMm: zMm[v], radiusMm: radiusMm[v] })),
  };
}

/** A silhouette point with the side of the axis it lies on: −1 to the left of the way from base to top as seen, 1 to the right. */
export interface SilhouettePoint extends ModelOutlinePoint {
  readonly side: -1 | 1;
}

/** The outline of the solid in the photo, once round, about every `spacingPx`; hidden pieces are left out. */
export function silhouetteOf(solid: SolidInView, spacingPx: number): readonly SilhouettePoint[] {
  const [base, top] = axisEndsOf(solid);
  const [ax, ay] = [top[0] - base[0], top[1] - base[1]];
  return projectSolidOutline(polylineOf(solid), modelView(solid.view), spacingPx).map((point) => ({
    ...point,
    side: ax * (point.yPx - base[1]) - ay * (point.xPx - base[0]) < 0 ? -1 : 1,
  }));
}

/** Where the middles of base and top are seen. */
export function axisEndsOf(solid: SolidInView): readonly [base: ImagePoint, top: ImagePoint] {
  return [imageOf(solid.view, [0, 0, 0]), imageOf(solid.view, [0, 0, heightOf(solid)])];
}

export function heightOf({ profile }: SolidInView): number {
  return profile[profile.length - 1].zMm;
}

/** Image of a point in the container frame, px. */
export function imageOf({ camera, cameraFromContainer: { rotation, translationMm } }: PhotoView, point: Vector3) {
  const [x, y, z] = add(multiply(rotation, point), translationMm);
  return projectPoint(camera, x, y, z);
}

/** Radius of the surface at a height, mm; that of the end beyond it. */
export function radiusAt({ profile }: SolidInView, zMm: number): number {
  const above = profile.findIndex((point) => point.zMm >= zMm);
  if (above < 0) return profile[profile.length - 1].radiusMm;
  if (above === 0) return profile[0].radiusMm;
  const [low, high] = [profile[above - 1], profile[above]];
  const share = (zMm - low.zMm) / (high.zMm - low.zMm || 1);
  return low.radiusMm + share * (high.radiusMm - low.radiusMm);
}

/** The same body, its base moved along the axis, whatever lies over the base moved with it. */
export function movedAlongAxis(view: PhotoView, byMm: number): PhotoView {
  const { rotation, translationMm } = view.cameraFromContainer;
  const axis: Vector3 = [rotation[2], rotation[5], rotation[8]];
  return { ...view, cameraFromContainer: { rotation, translationMm: add(translationMm, scale(axis, byMm)) } };
}

/** Turned about a point of the camera frame by a rotation of the camera frame. */
export function turnedAbout(view: PhotoView, pivot: Vector3, turn: readonly number[]): PhotoView {
  const { rotation, translationMm } = view.cameraFromContainer;
  return {
    ...view,
    cameraFromContainer: {
      rotation: multiplyMatrices(turn, rotation),
      translationMm: add(pivot, multiply(turn, subtract(translationMm, pivot))),
    },
  };
}

export function polylineOf({ profile }: SolidInView): Polyline {
  return {
    count: profile.length,
    zMm: Float64Array.from(profile, ({ zMm }) => zMm),
    radiusMm: Float64Array.from(profile, ({ radiusMm }) => radiusMm),
  };
}

/** The container's own frame in place of the card's. */
function modelView({ camera, cameraFromContainer: { rotation, translationMm } }: PhotoView): View {
  return {
    camera,
    rotation,
    translationMm,
    containerRotation: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    baseCentreMm: [0, 0, 0],
  };
}
