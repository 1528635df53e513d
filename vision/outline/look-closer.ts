import type { ImagePoint } from '../geometry/frames.ts';
import type { CoarseMask, CoarseSighting } from '../network/coarse-sighting.ts';
import type { Look } from '../network/look-any-way-up.ts';
import { bodyInMirror } from '../network/look-mirrored.ts';
import type { Cv } from '../opencv/cv.ts';
import { cutOut } from '../picture/cut-out.ts';
import type { Photo } from '../picture/photo.ts';
import { chosenShape, maskAt } from './mask-shape.ts';

/** Room left round the container, as a share of its long side. */
const ROOM = 0.25;
/** With less to gain in scale than this a second look shows nothing new. */
const LEAST_GAIN = 1.1;
/** The closer look sees finer, the whole photo sees what belongs together: their log odds count in this proportion. */
const CLOSER_SHARE = 0.6;
/** Container and mirror image are alike to the network. */
const MIRROR_SHARE = 0.5;
/** What a card hides is guessed; where the two looks guess differently the one that shows everything is kept. */
const LEAST_OVERLAP = 0.85;
/** Neither look's odds count for more than this. */
const LEAST_PROBABILITY = 0.01;

/**
 * The sighting with a finer body mask: the network looks again at the container alone, larger, and at its mirror image, and
 * all looks are averaged. The card and how it lies stay as seen in the whole photo.
 * @param tapPx  a point inside the container, when there is one
 */
export function lookCloser(
  cv: Cv,
  look: Look,
  photo: Photo,
  whole: CoarseSighting,
  tapPx: ImagePoint | undefined,
): CoarseSighting {
  const shape = chosenShape(whole.bodyMask, tapPx);
  if (!shape) return whole;
  const box = boxAround(whole, shape.boxPx);
  const room = ROOM * Math.max(box[2] - box[0], box[3] - box[1]);
  const { picture, left, top } = cutOut(photo, [box[0] - room, box[1] - room, box[2] + room, box[3] + room]);
  if (Math.max(photo.widthPx, photo.heightPx) < LEAST_GAIN * Math.max(picture.widthPx, picture.heightPx)) return whole;
  const tap: ImagePoint | undefined = tapPx && [tapPx[0] - left, tapPx[1] - top];
  const seen = look(picture, tap);
  if (seen.containerPresent < 0.5) return whole;
  const closer = movedBy(seen.bodyMask, left, top);
  const hiddenByCard = whole.arrangementScores['card-on-front'] + whole.arrangementScores['card-leaning'] > 0.5;
  if (hiddenByCard && overlap(closer, whole.bodyMask) < LEAST_OVERLAP) return whole;
  const inMirror = movedBy(bodyInMirror(cv, look, picture, tap), left, top);
  const bodyMask = blended(blended(closer, inMirror, MIRROR_SHARE), whole.bodyMask, 1 - CLOSER_SHARE);
  return { ...whole, bodyMask, borderMask: movedBy(seen.borderMask, left, top) };
}

/** A card that hides part of the container belongs in the picture: without it the network cannot tell what is hidden. */
function boxAround(
  { cardCornersPx, bodyMask }: CoarseSighting,
  [left, top, right, bottom]: readonly [number, number, number, number],
): [number, number, number, number] {
  const corners = cardCornersPx?.map(({ atPx }) => atPx) ?? [];
  if (!corners.some((corner) => maskAt(bodyMask, corner) > 0.5)) return [left, top, right, bottom];
  const xs = [left, right, ...corners.map(([x]) => x)];
  const ys = [top, bottom, ...corners.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function movedBy(mask: CoarseMask, x: number, y: number): CoarseMask {
  return { ...mask, originPx: [mask.originPx[0] + x, mask.originPx[1] + y] };
}

function placeOf({ originPx, pxPerCell, widthCells }: CoarseMask, cell: number): ImagePoint {
  return [originPx[0] + (cell % widthCells) * pxPerCell[0], originPx[1] + Math.floor(cell / widthCells) * pxPerCell[1]];
}

function overlap(fine: CoarseMask, coarse: CoarseMask): number {
  let [both, either] = [0, 0];
  fine.probability.forEach((p, cell) => {
    const [a, b] = [p >= 0.5, maskAt(coarse, placeOf(fine, cell)) >= 0.5];
    if (a && b) both++;
    if (a || b) either++;
  });
  return both / Math.max(either, 1);
}

/** @param share  of the other mask's log odds */
function blended(mask: CoarseMask, other: CoarseMask, share: number): CoarseMask {
  const probability = mask.probability.map((p, cell) => {
    const logOdds = (1 - share) * logit(p) + share * logit(maskAt(other, placeOf(mask, cell)));
    return 1 / (1 + Math.exp(-logOdds));
  });
  return { ...mask, probability };
}

function logit(p: number): number {
  const bounded = Math.min(Math.max(p, LEAST_PROBABILITY), 1 - LEAST_PROBABILITY);
  return Math.log(bounded / (1 - bounded));
}
