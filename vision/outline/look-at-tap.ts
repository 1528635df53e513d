import type { ImagePoint } from '../geometry/frames.ts';
import type { CoarseMask, CoarsePoint, CoarseSighting } from '../network/coarse-sighting.ts';
import type { Look } from '../network/look-any-way-up.ts';
import { cutOut } from '../picture/cut-out.ts';
import type { Photo } from '../picture/photo.ts';
import { maskAt } from './mask-shape.ts';

/** Cut-outs round the tap that are looked at, as shares of the photo's long side. */
const CUTOUT_SHARES = [0.6, 0.4, 0.28, 0.2];

/** A look at the whole photo that gives the tap this probability shows the tapped thing. */
const SURE = 0.8;
const LEAST_PROBABILITY = 0.5;

/**
 * The coarse sighting of the thing that was tapped. The network tells of one container in what it is shown; when that
 * is not surely the tapped one, it is shown cut-outs round the tap, and the one where it is surest of the tap counts.
 * @param whole  the sighting of the whole photo; also returned when no cut-out does better
 */
export function lookAtTap(look: Look, photo: Photo, tapPx: ImagePoint, whole: CoarseSighting): CoarseSighting {
  let best = { sighting: whole, probability: Math.max(maskAt(whole.bodyMask, tapPx), LEAST_PROBABILITY) };
  if (best.probability >= SURE) return whole;
  for (const share of CUTOUT_SHARES) {
    const { picture, left, top } = cutOut(
      photo,
      squareAround(photo, tapPx, share * Math.max(photo.widthPx, photo.heightPx)),
    );
    const tapInPicture: ImagePoint = [tapPx[0] - left, tapPx[1] - top];
    const seen = look(picture, tapInPicture);
    const probability = maskAt(seen.bodyMask, tapInPicture);
    if (seen.containerPresent < 0.5 || probability <= best.probability) continue;
    best = { sighting: inWholePhoto(seen, whole, left, top), probability };
  }
  return best.sighting;
}

/** A square round the tap, moved inside the photo. */
function squareAround({ widthPx, heightPx }: Photo, [x, y]: ImagePoint, sidePx: number) {
  const [across, down] = [Math.min(sidePx, widthPx), Math.min(sidePx, heightPx)];
  const left = Math.min(Math.max(x - across / 2, 0), widthPx - across);
  const top = Math.min(Math.max(y - down / 2, 0), heightPx - down);
  return [left, top, left + across, top + down] as const;
}

/** The container as seen in the cut-out; the card and how it lies as seen in the whole photo. */
function inWholePhoto(seen: CoarseSighting, whole: CoarseSighting, left: number, top: number): CoarseSighting {
  const moved = ({ atPx, confidence }: CoarsePoint): CoarsePoint => ({
    atPx: [atPx[0] + left, atPx[1] + top],
    confidence,
  });
  const movedMask = (mask: CoarseMask): CoarseMask => ({
    ...mask,
    originPx: [mask.originPx[0] + left, mask.originPx[1] + top],
  });
  return {
    ...whole,
    bodyMask: movedMask(seen.bodyMask),
    otherMask: movedMask(seen.otherMask),
    borderMask: movedMask(seen.borderMask),
    baseSeen: seen.baseSeen,
    topSeen: seen.topSeen,
    onSomething: seen.onSomething,
    axisPx: { base: moved(seen.axisPx.base), top: moved(seen.axisPx.top) },
    containerPresent: seen.containerPresent,
    round: seen.round,
    cutByFrame: Math.min(whole.cutByFrame, seen.cutByFrame),
  };
}
