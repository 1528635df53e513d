import { useMemo } from 'react';
import { axisEndsOf, type SolidInView, silhouetteOf } from '../../vision/container/solid-in-view.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { rimsOf } from './grips.ts';

/** Pieces of the silhouette on a photo of usual size: short enough for a rim, few enough for a frame. */
const SPACING_PX = 10;

/** The container like tinted glass over the photo: silhouette, rims with their hidden halves dashed, axis. */
export function SolidDrawing({ solid }: { readonly solid: SolidInView }) {
  const { outline, rims, axis } = useMemo(
    () => ({
      outline: silhouetteOf(solid, SPACING_PX).map(({ xPx, yPx }): ImagePoint => [xPx, yPx]),
      rims: rimsOf(solid),
      axis: axisEndsOf(solid),
    }),
    [solid],
  );
  return (
    <g className="drawing" pointerEvents="none">
      <polygon points={pointList(outline)} className="drawing__glass" />
      <polyline points={pointList(axis)} className="drawing__axis" />
      {rims.map(({ seenPx, hiddenPx }, k) => (
        <g key={k === 0 ? 'base' : 'top'}>
          {hiddenPx.length > 0 && (
            <polyline points={pointList(hiddenPx)} className="drawing__rim drawing__rim--hidden" />
          )}
          <polyline points={pointList(seenPx)} className="drawing__rim" />
        </g>
      ))}
      <polygon points={pointList(outline)} className="drawing__casing" />
      <polygon points={pointList(outline)} className="drawing__outline" />
    </g>
  );
}

export function pointList(points: readonly ImagePoint[]): string {
  return points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ');
}
