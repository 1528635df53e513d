import type { ImagePoint } from '../geometry/frames.ts';
import { rotationFromVector } from '../geometry/linear3.ts';
import type { HandFeature, PlacedFeature } from './hand-placement.ts';
import {
  axisEndsOf,
  heightOf,
  imageOf,
  movedAlongAxis,
  type SilhouettePoint,
  type SolidInView,
  silhouetteOf,
  turnedAbout,
} from './solid-in-view.ts';

/** A place on the drawn solid that can be taken hold of. */
export interface SolidHandle {
  readonly feature: HandFeature;
  /** Height as a share of the solid's, and the side of the axis seen from base to top; 0 where both move. */
  readonly share: number;
  readonly side: -1 | 0 | 1;
  readonly atPx: ImagePoint;
  /** Unit direction out of the container. Only what moves along it counts; all of it for a tilt. */
  readonly normal: readonly [number, number];
}

/** Heights at which a wall can be held: its corners, enough to follow a shoulder, few enough for thumbs. */
const WALL_SHARES = [0.08, 0.3, 0.5, 0.7, 0.92] as const;
/** A tilt is read off both walls up here. */
const TILT_SHARE = 0.8;
/** On the axis, clear of the top edge. */
const TILT_HANDLE_SHARE = 0.72;
const SILHOUETTE_SPACING_SHARE = 1 / 300;
/** Rounded ends, which move as they are; share of the height. */
const END_SHARE = 0.04;

/** @param shoulderZMm  where the body ends; null when it has no shoulder */
export function handlesOf(solid: SolidInView, shoulderZMm: number | null = null): SolidHandle[] {
  const silhouette = silhouetteOf(solid, spacingOf(solid));
  if (silhouette.length === 0) return [];
  const along = axisDirection(solid);
  const heightMm = heightOf(solid);
  const [basePx, topPx] = axisEndsOf(solid);
  const end = (feature: HandFeature, sign: 1 | -1): SolidHandle => {
    const { xPx, yPx, normalX, normalY } = onAxis(silhouette, sign > 0 ? topPx : basePx, [
      sign * along[0],
      sign * along[1],
    ]);
    return { feature, share: sign > 0 ? 1 : 0, side: 0, atPx: [xPx, yPx], normal: [normalX, normalY] };
  };
  const walls = WALL_SHARES.flatMap((share) =>
    ([-1, 1] as const).flatMap((side) => onWall(silhouette, share * heightMm, side, 'wall', heightMm)),
  );
  const shoulder =
    shoulderZMm === null ? [] : onWall(silhouette, shoulderZMm, 1, 'shoulder', heightMm).map(outwards(along));
  const tilt: SolidHandle = {
    feature: 'tilt',
    share: TILT_HANDLE_SHARE,
    side: 0,
    atPx: imageOf(solid.view, [0, 0, TILT_HANDLE_SHARE * heightMm]),
    normal: [-along[1], along[0]],
  };
  return [end('top-edge', 1), end('base-edge', -1), ...walls, ...shoulder, tilt];
}

function spacingOf(solid: SolidInView): number {
  const [base, top] = axisEndsOf(solid);
  return Math.max(2, SILHOUETTE_SPACING_SHARE * 4 * Math.hypot(top[0] - base[0], top[1] - base[1]));
}

/** Unit direction of the axis in the picture, from base to top. */
export function axisDirection(solid: SolidInView): readonly [number, number] {
  const [base, top] = axisEndsOf(solid);
  const [dx, dy] = [top[0] - base[0], top[1] - base[1]];
  const length = Math.hypot(dx, dy);
  return length > 1 ? [dx / length, dy / length] : [0, -1];
}

/** Where the silhouette crosses the axis, carried on beyond an end of it. */
function onAxis(
  points: readonly SilhouettePoint[],
  [endX, endY]: ImagePoint,
  [dx, dy]: readonly [number, number],
): SilhouettePoint {
  const beside = ({ xPx, yPx }: SilhouettePoint) => Math.abs((xPx - endX) * dy - (yPx - endY) * dx);
  const facing = points.filter(({ normalX, normalY }) => normalX * dx + normalY * dy > 0.5);
  return (facing.length > 0 ? facing : points).reduce((best, p) => (beside(p) < beside(best) ? p : best));
}

function onWall(
  silhouette: readonly SilhouettePoint[],
  zMm: number,
  side: -1 | 1,
  feature: HandFeature,
  heightMm: number,
): SolidHandle[] {
  let best: SilhouettePoint | null = null;
  for (const point of silhouette) {
    if (point.side !== side) continue;
    if (!best || Math.abs(point.zMm - zMm) < Math.abs(best.zMm - zMm)) best = point;
  }
  if (!best) return [];
  const { xPx, yPx, normalX, normalY } = best;
  return [{ feature, share: zMm / heightMm, side, atPx: [xPx, yPx], normal: [normalX, normalY] }];
}

/** A shoulder is moved up and down: its normal is halfway between the wall's and the axis. */
function outwards(along: readonly [number, number]) {
  return (handle: SolidHandle): SolidHandle => {
    const [x, y] = [handle.normal[0] + along[0], handle.normal[1] + along[1]];
    const length = Math.hypot(x, y) || 1;
    return { ...handle, normal: [x / length, y / length] };
  };
}

/** The solid as it is drawn while a handle is held at a point of the photo: one side moves and the other follows. */
export function pulled(solid: SolidInView, handle: SolidHandle, toPx: ImagePoint): SolidInView {
  const [dx, dy] = [toPx[0] - handle.atPx[0], toPx[1] - handle.atPx[1]];
  const along = axisDirection(solid);
  const heightMm = heightOf(solid);
  const awayPx = dx * handle.normal[0] + dy * handle.normal[1];
  switch (handle.feature) {
    case 'top-edge':
      return longer(solid, awayPx / pxPerMmAlong(solid, heightMm, along));
    case 'base-edge': {
      const byMm = Math.max(awayPx / pxPerMmAlong(solid, 0, along), -0.8 * heightMm);
      return deeper(solid, byMm);
    }
    case 'wall':
      return wider(solid, handle.share * heightMm, awayPx / pxPerMmAcross(solid, handle.share * heightMm));
    case 'shoulder': {
      const upMm = (dx * along[0] + dy * along[1]) / pxPerMmAlong(solid, handle.share * heightMm, along);
      return raised(solid, handle.share * heightMm, upMm);
    }
    case 'tilt':
      return leaned(solid, handle.atPx, toPx);
  }
}

/** Photo px that the axis moves on for each mm along it. */
function pxPerMmAlong({ view }: SolidInView, zMm: number, [ux, uy]: readonly [number, number]): number {
  const [a, b] = [imageOf(view, [0, 0, zMm - 1]), imageOf(view, [0, 0, zMm + 1])];
  const px = ((b[0] - a[0]) * ux + (b[1] - a[1]) * uy) / 2;
  // seen nearly along its axis a body would grow without end
  return Math.max(px, 0.15 * pxPerMmAcross({ view }, zMm));
}

function pxPerMmAcross({ view }: Pick<SolidInView, 'view'>, zMm: number): number {
  const { rotation, translationMm } = view.cameraFromContainer;
  const depth = rotation[8] * zMm + translationMm[2];
  return view.camera.focalPx / Math.max(depth, 1);
}

function longer({ view, profile }: SolidInView, byMm: number): SolidInView {
  const heightMm = profile[profile.length - 1].zMm;
  const from = (1 - END_SHARE) * heightMm;
  const grownMm = Math.max(byMm, -0.8 * heightMm);
  const below = profile.filter(({ zMm }) => zMm < from && zMm < from + grownMm);
  const end = profile.filter(({ zMm }) => zMm >= from).map((point) => ({ ...point, zMm: point.zMm + grownMm }));
  return { view, profile: [...below, ...end] };
}

function deeper({ view, profile }: SolidInView, byMm: number): SolidInView {
  const to = END_SHARE * profile[profile.length - 1].zMm;
  return {
    view: movedAlongAxis(view, -byMm),
    profile: profile
      .filter((point) => point.zMm <= to || point.zMm + byMm > to)
      .map((point) => (point.zMm <= to ? point : { ...point, zMm: point.zMm + byMm })),
  };
}

/** As far as the neighbouring handles; the outermost ones carry all that lies beyond them. */
function wider({ view, profile }: SolidInView, atMm: number, byMm: number): SolidInView {
  const heightMm = profile[profile.length - 1].zMm;
  const share = atMm / heightMm;
  const below = WALL_SHARES.findLast((other) => other < share - 0.05);
  const above = WALL_SHARES.find((other) => other > share + 0.05);
  return {
    view,
    profile: profile.map(({ zMm, radiusMm }) => {
      const next = zMm < atMm ? below : above;
      const weight = next === undefined ? 1 : Math.max(0, 1 - (zMm - atMm) / (next * heightMm - atMm));
      return { zMm, radiusMm: Math.max(radiusMm + weight * byMm, 0.05) };
    }),
  };
}

function raised({ view, profile }: SolidInView, atMm: number, byMm: number): SolidInView {
  const heightMm = profile[profile.length - 1].zMm;
  const up = Math.min(Math.max(byMm, -0.8 * atMm), 0.8 * (heightMm - atMm));
  return {
    view,
    profile: profile.map(({ zMm, radiusMm }) => {
      const weight = zMm < atMm ? zMm / atMm : (heightMm - zMm) / (heightMm - atMm);
      return { zMm: zMm + weight * up, radiusMm };
    }),
  };
}

/** Turned in the plane of the picture about the middle of its base. */
function leaned(solid: SolidInView, fromPx: ImagePoint, toPx: ImagePoint): SolidInView {
  const [[x, y]] = axisEndsOf(solid);
  const angle = Math.atan2(toPx[1] - y, toPx[0] - x) - Math.atan2(fromPx[1] - y, fromPx[0] - x);
  const pivot = solid.view.cameraFromContainer.translationMm;
  return { ...solid, view: turnedAbout(solid.view, pivot, rotationFromVector([0, 0, angle])) };
}

/**
 * What letting a handle go says about the outline.
 * @param drawn  the solid as drawn when the handle was let go
 * @param sdPx   standard uncertainty of the hand across the edge, photo px
 */
export function placementOf(handle: SolidHandle, drawn: SolidInView, toPx: ImagePoint, sdPx: number): PlacedFeature {
  const { feature, share, side, normal } = handle;
  if (feature !== 'tilt') {
    const point = { xPx: toPx[0], yPx: toPx[1], normalX: normal[0], normalY: normal[1] };
    return { feature, share, side, points: [point], sdPx };
  }
  const heightMm = heightOf(drawn);
  const silhouette = silhouetteOf(drawn, spacingOf(drawn));
  const walls = ([-1, 1] as const).flatMap((at) =>
    onWall(silhouette, TILT_SHARE * heightMm, at, 'tilt', heightMm).map(({ atPx, normal: [normalX, normalY] }) => ({
      xPx: atPx[0],
      yPx: atPx[1],
      normalX,
      normalY,
    })),
  );
  return { feature, share, side, points: walls, sdPx };
}

/** Tells two placements of one handle from those of two: the later one of a handle counts. */
export function isSameHandle(
  a: Pick<PlacedFeature, 'feature' | 'share' | 'side'>,
  b: Pick<PlacedFeature, 'feature' | 'share' | 'side'>,
): boolean {
  return a.feature === b.feature && a.side === b.side && (a.feature !== 'wall' || Math.abs(a.share - b.share) < 0.05);
}
