import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { CardSide, CardSighting } from '../sighting.ts';
import { lensGuess, viewAsRectangle } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import { clockwise, topLeft } from './refine-card.ts';

export interface PlaceCardOptions {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPrior: FocalPrior;
  readonly reference: FlatReference;
  /** Standard uncertainty of each placed corner in each direction, px. */
  readonly sdPx: number;
}

/**
 * A card sighting from four placed corners alone, no pixel looked at.
 * @param cornersPx  in any order; image frame
 * @returns null when the four points cannot be the view of a rectangle
 */
export function placeCard(cornersPx: CornersPx, options: PlaceCardOptions): CardSighting | null {
  const quad = clockwise(cornersPx);
  const lens = lensGuess(options.focalPrior, options.widthPx, options.heightPx, 1);
  const view = viewAsRectangle(quad, lens, options.reference, 0.03);
  if (!view) return null;
  const first = topLeft(quad);
  const [a, b, c, d] = [0, 1, 2, 3].map((k): ImagePoint => {
    const at = 2 * ((first + k) % 4);
    return [quad[at], quad[at + 1]];
  });
  // Two independent corner errors average along a side.
  const side: CardSide = { edgePointsPx: [], sdPx: options.sdPx / Math.SQRT2 };
  return {
    cornersPx: [a, b, c, d],
    sides: [side, side, side, side],
    longSide: ((view.longSide + first) % 2) as 0 | 1,
    score: 1,
  };
}
