import type { Camera } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { cross, unit, type Vector3 } from '../geometry/linear3.ts';
import type { CoarseSighting } from '../network/coarse-sighting.ts';
import type { Cv } from '../opencv/cv.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import { shrinkPhotoTo } from '../picture/picture.ts';
import { imageFromView } from './axis-view.ts';
import { classicalRegionsAbout } from './classical-regions.ts';
import { wholeOutline } from './half-outline.ts';
import { chosenShape, type MaskShape, maskShapes } from './mask-shape.ts';
import { FINE_LONG_SIDE, type Region, refinedRegion, WORKING_LONG_SIDE } from './refined-region.ts';

export interface SketchHints {
  readonly focalPrior: FocalPrior;
  /** A point inside the container. */
  readonly tapPx?: ImagePoint;
  readonly coarse?: CoarseSighting;
}

/** Directions tried where nothing tells the axis: every 30° in the image. */
const DIRECTIONS = 6;

/**
 * The container's outline in a photo without a card, or before the card is found: a closed polygon (photo frame,
 * clockwise) to show and to correct, not to measure from. The axis is taken to lie across the line of sight.
 * @returns null when nothing stands out
 */
export function sketchOutline(cv: Cv, photo: Photo, hints: SketchHints): readonly ImagePoint[] | null {
  const { widthPx, heightPx } = photo;
  const longSide = Math.max(widthPx, heightPx);
  const [fine, working] = shrinkPhotoTo(cv, photo, [longSide / FINE_LONG_SIDE, longSide / WORKING_LONG_SIDE]);
  const camera: Camera = {
    focalPx: hints.focalPrior.focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    k1: 0,
  };
  const region = startingRegion(camera, hints, () => {
    const axes = Array.from({ length: DIRECTIONS }, (_, i) => {
      const angle = Math.PI / 2 + (i * Math.PI) / DIRECTIONS;
      const at = hints.tapPx ?? [camera.centreXPx, camera.centreYPx];
      return axisAcrossSight(camera, at, [at[0] + 100 * Math.cos(angle), at[1] - 100 * Math.sin(angle)]);
    });
    return classicalRegionsAbout(
      working,
      camera,
      axes,
      { cardPx: [], cardMarginPx: 0, tapPx: hints.tapPx },
      'anywhere',
    );
  });
  const refined = region && refinedRegion(working, fine, camera, region, { hiddenPx: [], hiddenMarginPx: 0 });
  if (!refined) return null;
  return wholeOutline(refined.half)
    .map(([column, row]) => imageFromView(refined.view, column, row))
    .filter((at) => at !== null);
}

function startingRegion(
  camera: Camera,
  { coarse, tapPx }: SketchHints,
  classical: () => readonly Omit<Region, 'shape'>[],
): Region | null {
  const seenShape = coarse && chosenShape(coarse.bodyMask, tapPx);
  if (seenShape) return { axis: axisOfShape(camera, coarse, seenShape), mask: coarse.bodyMask, shape: seenShape };
  if (coarse && !tapPx) return null;
  const [best] = classical();
  const shape = best && maskShapes(best.mask)[0];
  return shape ? { axis: best.axis, mask: best.mask, shape } : null;
}

function axisOfShape(camera: Camera, { axisPx }: CoarseSighting, shape: MaskShape): Vector3 {
  const { base, top } = axisPx;
  const near = (at: ImagePoint) =>
    Math.hypot(at[0] - shape.centrePx[0], at[1] - shape.centrePx[1]) < 3 * shape.spreadPx[0];
  if (Math.min(base.confidence, top.confidence) > 0.3 && near(base.atPx) && near(top.atPx)) {
    return axisAcrossSight(camera, base.atPx, top.atPx);
  }
  const { centrePx, alongPx, spreadPx } = shape;
  // a squat region has no long direction: most things stand upright
  const [dx, dy] = spreadPx[0] > 1.15 * spreadPx[1] ? alongPx : [0, -1];
  return axisAcrossSight(camera, centrePx, [centrePx[0] + dx * spreadPx[0], centrePx[1] + dy * spreadPx[0]]);
}

/** Direction across the line of sight at `from` whose image runs towards `to`. */
function axisAcrossSight({ focalPx, centreXPx, centreYPx }: Camera, from: ImagePoint, to: ImagePoint): Vector3 {
  const a: Vector3 = [(from[0] - centreXPx) / focalPx, (from[1] - centreYPx) / focalPx, 1];
  const b: Vector3 = [(to[0] - centreXPx) / focalPx, (to[1] - centreYPx) / focalPx, 1];
  return unit(cross(cross(a, b), a));
}
