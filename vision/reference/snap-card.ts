import type { CornersPx } from '../geometry/frames.ts';
import type { Photo } from '../picture/photo.ts';
import type { CardSighting } from '../sighting.ts';
import { type RefineOptions, refineCard } from './refine-card.ts';

/** A corner that a hand let go lies within so many of its sds of the card's; farther off the edges are another thing's. */
const REACH_SDS = 4;
/**
 * A side that is really seen has samples along all of it (refineCard takes 120 of each); laid across an edge it has them
 * on one half. On the sample photos, placed 55 times with the error of a finger, right sides had 109 or more, wrong ones 84
 * or fewer.
 */
const FEWEST_SAMPLES = 100;
/** One look reaches some 14 px; a finger on a whole photo may be farther off. */
const LOOKS = 3;

/**
 * A card placed by hand, laid onto the edges in the photo where there are some beside all of its sides.
 * @param placed  from placeCard
 * @param sdPx    standard uncertainty of each placed corner
 */
export function snapCard(photo: Photo, placed: CardSighting, sdPx: number, options: RefineOptions): CardSighting {
  let cornersPx: CornersPx = placed.cornersPx;
  for (let look = 0; look < LOOKS; look++) {
    const seen = refineCard(photo, cornersPx, options);
    if (!isNear(seen.cornersPx, placed.cornersPx, REACH_SDS * sdPx)) return placed;
    if (seen.sides.every(({ edgePointsPx }) => edgePointsPx.length >= FEWEST_SAMPLES)) {
      return seen.longSide === placed.longSide ? { ...seen, score: 1 } : placed;
    }
    ({ cornersPx } = seen);
  }
  return placed;
}

function isNear(corners: CornersPx, others: CornersPx, withinPx: number): boolean {
  return corners.every(([x, y], k) => Math.hypot(x - others[k][0], y - others[k][1]) < withinPx);
}
