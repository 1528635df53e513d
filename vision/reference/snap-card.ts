import type { Photo } from '../picture/photo.ts';
import type { CardSighting } from '../sighting.ts';
import { type RefineOptions, refineCard } from './refine-card.ts';

/** A corner that a hand let go lies within so many of its sds of the card's; farther off the edges are another thing's. */
const REACH_SDS = 4;
/** A side that was seen has at least so many samples. */
const FEWEST_SAMPLES = 8;

/**
 * A card placed by hand, laid onto the edges in the photo where there are some beside it.
 * @param placed  from placeCard
 * @param sdPx    standard uncertainty of each placed corner
 */
export function snapCard(photo: Photo, placed: CardSighting, sdPx: number, options: RefineOptions): CardSighting {
  const seen = refineCard(photo, placed.cornersPx, options);
  const isNear = seen.cornersPx.every(([x, y], k) => {
    const [px, py] = placed.cornersPx[k];
    return Math.hypot(x - px, y - py) < REACH_SDS * sdPx;
  });
  const isSeen = seen.sides.every(({ edgePointsPx }) => edgePointsPx.length >= FEWEST_SAMPLES);
  return isNear && isSeen && seen.longSide === placed.longSide ? { ...seen, score: 1 } : placed;
}
