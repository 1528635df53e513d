import type { ImagePoint } from '../frames.ts';

/** What the small network makes of a whole photo at a glance: good to a few pixels in a thousand, never the measurement. */
export interface CoarseSighting {
  /** Container body with cap and lid, without a handle; includes what the card hides. */
  readonly bodyMask: CoarseMask;
  /** Visible face of the card. */
  readonly cardMask: CoarseMask;
  /** Corner guesses, clockwise as seen from the top-left one. Null when the card's presence is below 0.5. */
  readonly cardCornersPx: readonly [CoarsePoint, CoarsePoint, CoarsePoint, CoarsePoint] | null;
  /** Centres of the base and of the top of the container, where its axis meets them. */
  readonly axisPx: { readonly base: CoarsePoint; readonly top: CoarsePoint };
  /** Probabilities that add up to 1. */
  readonly arrangementScores: Readonly<Record<CoarseArrangement, number>>;
  readonly containerPresent: number;
  readonly round: number;
  readonly cutByFrame: number;
  readonly cardPresent: number;
}

export type CoarseArrangement = 'standing' | 'lying' | 'card-on-front' | 'card-leaning';

/** A grid of probabilities laid over the photo. */
export interface CoarseMask {
  readonly widthCells: number;
  readonly heightCells: number;
  /** Row by row, 0..1. */
  readonly probability: Float32Array;
  /** Photo pixel at the centre of cell (0, 0). */
  readonly originPx: ImagePoint;
  /** Photo pixels from one cell's centre to the next, across and down: cell (c, r) sits at origin + (c, r) · pxPerCell. */
  readonly pxPerCell: readonly [xPx: number, yPx: number];
}

/** One guessed point, image frame. */
export interface CoarsePoint {
  readonly atPx: ImagePoint;
  /** 0..1: height of the heat map's peak. */
  readonly confidence: number;
}
