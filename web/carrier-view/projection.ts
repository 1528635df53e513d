import {
  add,
  cross,
  type Matrix3,
  multiply,
  multiplyMatrices,
  multiplyTransposed,
  scale,
  unit,
  type Vector3,
} from '../../vision/geometry/linear3.ts';
import type { PhotoView } from '../../vision/measurement.ts';

/**
 * What a picture is drawn through: the camera of vision/geometry/camera-ray.ts before a frame of `widthPx` x `heightPx`,
 * and cameraFromContainer. Photo and turntable go the same way.
 */
export interface PictureView extends PhotoView {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** How somebody looks at the turntable: turned about the axis, seen from above by `tiltRad`, nearer by `zoom`. */
export interface Turn {
  readonly turnRad: number;
  readonly tiltRad: number;
  readonly zoom: number;
}

export const START: Turn = { turnRad: 0, tiltRad: 0.2, zoom: 1 };
/** A mat is seen from further above. */
export const MAT_START: Turn = { ...START, tiltRad: 0.6 };

export const TILT_LIMITS = [-0.25, 1.45] as const;
export const ZOOM_LIMITS = [0.6, 6] as const;

/** What has to be in the picture, mm in the container's frame. */
export interface Extent {
  readonly bottomMm: number;
  readonly topMm: number;
  readonly reachMm: number;
}

/** Half the angle of view upwards: a lens that shows things in their natural proportions, not from close by. */
const HALF_VIEW_RAD = 0.2;
/** A strap that comes up past the camera is cut off at this share of the container's distance. */
const NEAREST_SHARE = 0.35;
/** Air around what is shown, as a share. */
const AIR = 1.1;

/** The camera before the turntable: it looks at the middle of the extent, which just fills the frame. */
export function turntableView(
  { turnRad, tiltRad, zoom }: Turn,
  extent: Extent,
  frame: { widthPx: number; heightPx: number },
): PictureView {
  const { widthPx, heightPx } = frame;
  const middleMm = (extent.bottomMm + extent.topMm) / 2;
  const upMm =
    ((extent.topMm - extent.bottomMm) / 2) * Math.cos(tiltRad) + extent.reachMm * Math.abs(Math.sin(tiltRad));
  const asideMm = extent.reachMm;
  const halfMm = AIR * Math.max(upMm, (asideMm * heightPx) / widthPx);
  const distanceMm = halfMm / Math.tan(HALF_VIEW_RAD) / zoom + extent.reachMm;
  const away: Vector3 = [
    Math.sin(turnRad) * Math.cos(tiltRad),
    -Math.cos(turnRad) * Math.cos(tiltRad),
    Math.sin(tiltRad),
  ];
  const forward = scale(away, -1);
  const right = unit(cross(forward, [0, 0, 1]));
  const down = cross(forward, right);
  const rotation = [...right, ...down, ...forward];
  const eye = add([0, 0, middleMm], scale(away, distanceMm));
  return {
    camera: {
      focalPx: heightPx / 2 / Math.tan(HALF_VIEW_RAD),
      centreXPx: (widthPx - 1) / 2,
      centreYPx: (heightPx - 1) / 2,
      k1: 0,
    },
    cameraFromContainer: { rotation, translationMm: scale(multiply(rotation, eye), -1) },
    widthPx,
    heightPx,
  };
}

/**
 * The camera of a photo. What is drawn is turned about the container's axis, which looks the same from all sides, so that its
 * front faces the camera, and on by `spinRad`.
 */
export function photoView(view: PhotoView, frame: { widthPx: number; heightPx: number }, spinRad: number): PictureView {
  const { rotation, translationMm } = view.cameraFromContainer;
  const [x, y] = eyeOf(view);
  const turnRad = Math.atan2(x, -y) + spinRad;
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const turned = multiplyMatrices(rotation, [c, -s, 0, s, c, 0, 0, 0, 1]);
  return { ...frame, camera: view.camera, cameraFromContainer: { rotation: turned, translationMm } };
}

/** The camera's place in the container's frame, mm. */
export function eyeOf({ cameraFromContainer: { rotation, translationMm } }: PhotoView): Vector3 {
  return scale(multiplyTransposed(rotation, translationMm), -1);
}

/** A direction of the camera's frame in the container's. */
export function inContainer({ cameraFromContainer: { rotation } }: PhotoView, direction: Vector3): Vector3 {
  return multiplyTransposed(rotation, direction);
}

/** Distances along the optical axis that hold everything within `radiusMm` of the middle of the container. */
export function depthRange(
  { cameraFromContainer }: PhotoView,
  middle: Vector3,
  radiusMm: number,
): readonly [number, number] {
  const { rotation, translationMm } = cameraFromContainer;
  const depthMm = multiply(rotation as Matrix3, middle)[2] + translationMm[2];
  return [Math.max(depthMm - radiusMm, depthMm * NEAREST_SHARE), depthMm + radiusMm];
}
