import type { Camera } from '../geometry/camera-ray.ts';
import type { Vector3 } from '../geometry/linear3.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { Picture } from '../picture/picture.ts';
import { outlineFromMask } from './coarse-outline.ts';
import type { MaskShape } from './mask-shape.ts';
import { carriedOver, type RefineSettings, refineInView, type ViewRefinement } from './refine-in-view.ts';

/** A region to start from and the axis direction to look about. */
export interface Region {
  readonly axis: Vector3;
  readonly mask: CoarseMask;
  readonly shape: MaskShape;
}

export const WORKING_LONG_SIDE = 1008;
export const FINE_LONG_SIDE = 2016;

/** Cuts the region out symmetrically, then moves its border to what both sides show, coarse to fine. */
export function refinedRegion(
  working: Picture,
  fine: Picture,
  camera: Camera,
  region: Region,
  hidden: Pick<RefineSettings, 'hiddenPx' | 'hiddenMarginPx' | 'maskPreference'>,
): ViewRefinement | null {
  const cut = outlineFromMask(working, camera, region, hidden.hiddenPx[0] ?? [], hidden.hiddenMarginPx);
  if (!cut) return null;
  let outline: ViewRefinement = { ...cut, cost: 0 };
  for (const { zoom, reach, spacing, picture } of [
    { zoom: 1, reach: 5, spacing: 1.5, picture: working },
    { zoom: 2, reach: 6, spacing: 2, picture: fine },
  ]) {
    const viewPxPerRad = cut.view.viewPxPerRad * zoom;
    const carried =
      Math.abs(outline.view.viewPxPerRad / viewPxPerRad - 1) < 0.05
        ? outline
        : carriedOver(outline, outline.view.axis, outline.half.points[0][1], viewPxPerRad);
    if (!carried) return null;
    outline = refineInView(picture, carried, { reach, spacing, ...hidden });
  }
  return outline;
}
