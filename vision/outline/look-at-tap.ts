import type { ImagePoint } from '../frames.ts';
import {
  type CoarseMask,
  type CoarsePoint,
  type CoarseSighting,
  coarseSighting,
} from '../outline-model/coarse-sighting.ts';
import type { OutlineModel } from '../outline-model/outline-model.ts';
import type { Photo } from '../photo.ts';
import { maskAt } from './mask-shape.ts';

/** Cut-outs round the tap that are looked at in turn, as shares of the photo's long side. */
const CUTOUT_SHARES = [0.6, 0.35, 0.22];

/**
 * The coarse sighting of the thing that was tapped. The network tells of one container in what it is shown; when that
 * is not the tapped one, it is shown ever smaller cut-outs round the tap until its body mask covers the tap.
 * @param whole  the sighting of the whole photo; also returned when no cut-out does better
 */
export function lookAtTap(model: OutlineModel, photo: Photo, tapPx: ImagePoint, whole: CoarseSighting): CoarseSighting {
  if (maskAt(whole.bodyMask, tapPx) >= 0.5) return whole;
  for (const share of CUTOUT_SHARES) {
    const { cutout, left, top } = cutAround(photo, tapPx, share * Math.max(photo.widthPx, photo.heightPx));
    const seen = coarseSighting(model, cutout);
    if (seen.containerPresent < 0.5) continue;
    if (maskAt(seen.bodyMask, [tapPx[0] - left, tapPx[1] - top]) >= 0.5) return inWholePhoto(seen, whole, left, top);
  }
  return whole;
}

interface Cutout {
  readonly cutout: Photo;
  readonly left: number;
  readonly top: number;
}

function cutAround(photo: Photo, [x, y]: ImagePoint, sidePx: number): Cutout {
  const widthPx = Math.min(Math.round(sidePx), photo.widthPx);
  const heightPx = Math.min(Math.round(sidePx), photo.heightPx);
  const left = Math.round(Math.min(Math.max(x - widthPx / 2, 0), photo.widthPx - widthPx));
  const top = Math.round(Math.min(Math.max(y - heightPx / 2, 0), photo.heightPx - heightPx));
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    const from = 4 * ((top + row) * photo.widthPx + left);
    rgba.set(photo.rgba.subarray(from, from + 4 * widthPx), 4 * row * widthPx);
  }
  return { cutout: { ...photo, widthPx, heightPx, rgba }, left, top };
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
    axisPx: { base: moved(seen.axisPx.base), top: moved(seen.axisPx.top) },
    containerPresent: seen.containerPresent,
    round: seen.round,
    cutByFrame: Math.min(whole.cutByFrame, seen.cutByFrame),
  };
}
