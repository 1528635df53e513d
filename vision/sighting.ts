import type { CornersPx, ImagePoint } from './geometry/frames.ts';

/** One side of the reference as seen: edge samples without the rounded corners. */
export interface CardSide {
  readonly edgePointsPx: readonly ImagePoint[];
  /** Standard uncertainty of the whole side's position across its direction, px. */
  readonly sdPx: number;
}

/** The reference card found in the photo. Side k runs from corner k to corner k + 1. */
export interface CardSighting {
  /** Un-rounded intersections of the edge lines of the visible face, clockwise from top-left as seen. */
  readonly cornersPx: CornersPx;
  readonly sides: readonly [CardSide, CardSide, CardSide, CardSide];
  /** 0 when side 0 (and 2) are the long sides of the card, 1 when side 1 (and 3) are. */
  readonly longSide: 0 | 1;
  /** 0..1, how card-like the evidence is; 1 for user-placed corners. */
  readonly score: number;
  /**
   * Of a coin or disc: its rim. The corners are then those of the square about its face, in the better of its two poses,
   * and the sides are not looked at.
   */
  readonly rim?: RimSighting;
}

/** The outline of a coin or disc on a table. */
export interface RimSighting {
  /** Samples all round, in order; the normals point out of the coin. */
  readonly points: readonly OutlinePoint[];
  /** Standard uncertainty of all of it lying too far out or in, px. */
  readonly haloSdPx: number;
}

/** One sample of the container's outline. The normal is a unit vector pointing out of the container. */
export interface OutlinePoint {
  readonly xPx: number;
  readonly yPx: number;
  readonly normalX: number;
  readonly normalY: number;
  /** Standard uncertainty across the edge, px. */
  readonly sdPx: number;
  /** Nobody saw it: it is where the outline is supposed to run behind the card. */
  readonly supposed?: boolean;
}

/** The container's visible outline: hidden or doubtful pieces are left out. */
export interface OutlineSighting {
  readonly points: readonly OutlinePoint[];
  /** Distance along the outline over which the errors of neighbouring points are alike, px. */
  readonly correlationLengthPx: number;
  /** True when the outline runs along the photo's border. */
  readonly cutByFrame: boolean;
}
