import type { ImagePoint } from '../geometry/frames.ts';
import type { OutlinePoint } from '../sighting.ts';

/** What of the drawn solid a maker can take hold of. */
export const HAND_FEATURES = ['top-edge', 'base-edge', 'wall', 'shoulder', 'tilt'] as const;
export type HandFeature = (typeof HAND_FEATURES)[number];

/**
 * A piece of the solid that the maker put in its place: an observation like any edge, with the error of her hand. What
 * was found along its stretch no longer counts; everywhere else the photo still does.
 */
export interface PlacedFeature {
  readonly feature: HandFeature;
  /** Where on the solid: height as a share of its own, and the side of the axis seen from base to top (0: both). */
  readonly share: number;
  readonly side: -1 | 0 | 1;
  /** The silhouette runs through here; the normals point out of the container. Two for a tilt, else one. */
  readonly points: readonly Omit<OutlinePoint, 'sdPx'>[];
  /** Standard uncertainty of the hand across the edge, photo px. */
  readonly sdPx: number;
  /** She was asked about the bump it makes, and said that it is part of the container. */
  readonly isSure?: boolean;
}

/** A stretch of the outline that is not the round body: a handle, a spout, a thing behind. */
export interface LeftOutStretch {
  readonly feature: 'left-out';
  /** The way the finger took. */
  readonly pathPx: readonly ImagePoint[];
  readonly radiusPx: number;
}

export type HandPlacement = PlacedFeature | LeftOutStretch;

/** A sample of the solid's outline, as far as it takes to know whose stretch it lies in. */
export interface OutlinePlace {
  readonly xPx: number;
  readonly yPx: number;
  readonly share: number;
  readonly side: -1 | 1;
}

/** Ends of the outline that belong to the edges of top and base, as shares of the height. */
const END_SHARE = 0.06;
/** Half of what lies between two handles of a wall; as far as a shoulder is rounded. */
const WALL_SHARE = 0.125;
const SHOULDER_SHARE = 0.08;
/** A tilt speaks for the walls above this. */
const TILT_FROM_SHARE = 0.3;

/** Whether a sample lies in a stretch that a hand has spoken for. */
export function isSpokenFor(hand: readonly HandPlacement[], place: OutlinePlace): boolean {
  return hand.some((placement) =>
    placement.feature === 'left-out' ? isLeftOutBy(placement, place) : isInStretch(placement, place),
  );
}

/** Whether a sample lies in a stretch that the maker took off the outline. */
export function isLeftOut(hand: readonly HandPlacement[], place: Pick<OutlinePlace, 'xPx' | 'yPx'>): boolean {
  return hand.some((placement) => placement.feature === 'left-out' && isLeftOutBy(placement, place));
}

function isInStretch({ feature, share, side }: PlacedFeature, place: OutlinePlace): boolean {
  if (feature === 'top-edge') return place.share > 1 - END_SHARE;
  if (feature === 'base-edge') return place.share < END_SHARE;
  if (feature === 'tilt') return place.share > TILT_FROM_SHARE && place.share < 1 - END_SHARE;
  const reach = feature === 'wall' ? WALL_SHARE : SHOULDER_SHARE;
  return Math.abs(place.share - share) < reach && (side === 0 || side === place.side);
}

function isLeftOutBy({ pathPx, radiusPx }: LeftOutStretch, { xPx, yPx }: Pick<OutlinePlace, 'xPx' | 'yPx'>): boolean {
  return pathPx.some(([x, y], k) => {
    const [fromX, fromY] = pathPx[Math.max(k - 1, 0)];
    const [dx, dy] = [x - fromX, y - fromY];
    const along = Math.min(1, Math.max(0, ((xPx - fromX) * dx + (yPx - fromY) * dy) / (dx * dx + dy * dy || 1)));
    return Math.hypot(fromX + along * dx - xPx, fromY + along * dy - yPx) < radiusPx;
  });
}

/** A tilt moves both walls alike and says nothing about their distance, so neither counts for much alone. */
const TILT_SDS = Math.SQRT2;

/** What the fit is told: the outline grazes these points, each with the sd of the hand. */
export function handPoints(hand: readonly HandPlacement[]): OutlinePoint[] {
  return hand.flatMap((placement) =>
    placement.feature === 'left-out'
      ? []
      : placement.points.map((point) => ({
          ...point,
          sdPx: placement.sdPx * (placement.feature === 'tilt' ? TILT_SDS : 1),
        })),
  );
}
