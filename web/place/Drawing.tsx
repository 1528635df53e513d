import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { rimInSquare } from '../../vision/reference/place-coin.ts';
import { faceOf } from '../engine/cover.ts';
import { pointList } from './SolidDrawing.tsx';

interface DrawingProps {
  readonly cornersPx: CornersPx | null;
  /** The corners are those of the square about a coin or disc. */
  readonly isRound: boolean;
  /** Nobody who looks over her shoulder reads the card; its edges stay in sight. */
  readonly isFaceCovered: boolean;
  /** The rim of a coin or disc as found, which no hand moves. */
  readonly rimPx: readonly ImagePoint[] | null;
  readonly outlinePx: readonly ImagePoint[] | null;
}

const RIM_POINTS = 64;

/** Card and outline as lines of constant width, each with a dark casing so that they show on any photo. */
export function Drawing({ cornersPx, isRound, isFaceCovered, rimPx, outlinePx }: DrawingProps) {
  const cardPx = isRound && cornersPx ? rimInSquare(cornersPx, RIM_POINTS) : (cornersPx ?? rimPx);
  return (
    <g className="drawing" pointerEvents="none">
      {isFaceCovered && !isRound && cornersPx && (
        <polygon points={pointList(faceOf(cornersPx))} className="drawing__face" />
      )}
      {outlinePx && (
        <>
          <polygon points={pointList(outlinePx)} className="drawing__casing" />
          <polygon points={pointList(outlinePx)} className="drawing__outline" />
        </>
      )}
      {isRound && cornersPx && <polygon points={pointList(cornersPx)} className="drawing__square" />}
      {cardPx && (
        <>
          <polygon points={pointList(cardPx)} className="drawing__casing" />
          <polygon points={pointList(cardPx)} className="drawing__card" />
        </>
      )}
    </g>
  );
}
