import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { Arrangement } from '../measurement.ts';
import { type Box, cutOut } from '../picture/cut-out.ts';
import type { Photo } from '../picture/photo.ts';
import type { CoarseSighting } from './coarse-sighting.ts';
import type { Look } from './look-any-way-up.ts';

/** Room left round a card, as a share of its long side: what lies about it tells it from a label, and how it lies. */
const ROOM = 0.75;
/** A card whose farthest corner is off by this share of its long side is another one: cards are off by 0.06 at most. */
const ANOTHER = 0.25;

/** The card's corners as a sighting has them; null when it sees none. */
export function cornersSeen({ cardCornersPx }: CoarseSighting): CornersPx | null {
  if (!cardCornersPx) return null;
  const [a, b, c, d] = cardCornersPx.map(({ atPx }) => atPx);
  return [a, b, c, d];
}

/** The card's corners as the network sees them when it looks at the neighbourhood of a rectangle, photo frame; null when it sees none. */
export function cornersAbout(look: Look, photo: Photo, rectanglePx: CornersPx): CornersPx | null {
  const { picture, left, top } = cutOut(photo, neighbourhood(rectanglePx));
  const corners = cornersSeen(look(picture));
  const moved = ([x, y]: ImagePoint): ImagePoint => [x + left, y + top];
  return corners && [moved(corners[0]), moved(corners[1]), moved(corners[2]), moved(corners[3])];
}

/**
 * The sighting with what is known of this card: when it had another rectangle in view, or none, a look at the card itself has
 * as much to say on how it lies.
 */
export function sightingOfCard(look: Look, photo: Photo, seen: CoarseSighting, cardPx: CornersPx): CoarseSighting {
  const before = cornersSeen(seen);
  if (before && farthest(before, cardPx) < ANOTHER * longSidePx(cardPx)) return seen;
  const closer = look(cutOut(photo, neighbourhood(cardPx)).picture);
  if (closer.cardPresent < 0.5) return seen;
  const both = (arrangement: Arrangement) =>
    (seen.arrangementScores[arrangement] + closer.arrangementScores[arrangement]) / 2;
  const arrangementScores = {
    standing: both('standing'),
    lying: both('lying'),
    'card-on-front': both('card-on-front'),
    'card-leaning': both('card-leaning'),
  };
  return { ...seen, arrangementScores };
}

function neighbourhood(cornersPx: CornersPx): Box {
  const [xs, ys] = [cornersPx.map(([x]) => x), cornersPx.map(([, y]) => y)];
  const [left, top, right, bottom] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const room = ROOM * Math.max(right - left, bottom - top);
  return [left - room, top - room, right + room, bottom + room];
}

function longSidePx(cornersPx: CornersPx): number {
  return Math.max(...[0, 1].map((k) => Math.hypot(...difference(cornersPx[k + 1], cornersPx[k]))));
}

/** Largest distance between corresponding corners, whichever corner either begins with. */
function farthest(a: CornersPx, b: CornersPx): number {
  const turned = [0, 1, 2, 3].map((turn) => a.map((at, k) => Math.hypot(...difference(at, b[(k + turn) % 4]))));
  return Math.min(...turned.map((distances) => Math.max(...distances)));
}

function difference(a: ImagePoint, b: ImagePoint): [number, number] {
  return [a[0] - b[0], a[1] - b[1]];
}
