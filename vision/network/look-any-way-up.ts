import type { ImagePoint } from '../geometry/frames.ts';
import type { Arrangement } from '../measurement.ts';
import type { Photo } from '../picture/photo.ts';
import { shrinkPhotoTo } from '../picture/picture.ts';
import {
  type CoarseCorner,
  type CoarseMask,
  type CoarsePoint,
  type CoarseSighting,
  coarseSighting,
} from './coarse-sighting.ts';
import type { OutlineModel } from './outline-model.ts';

/** Quarter turns, clockwise. */
export type QuarterTurns = 0 | 1 | 2 | 3;

/** A look at a photo or a part of it, in that photo's own pixels, at what was tapped if anything was. */
export type Look = (photo: Photo, tapPx?: ImagePoint) => CoarseSighting;

/** Larger than what the network looks at, so that its own shrinking decides. */
export const LOOKED_AT_PX = 640;

/**
 * A look that turns what it is shown before the network sees it, and its answer back. The network has learnt pictures that
 * are the right way up; programs forget which way that is, and a phone held over a table cannot tell.
 */
export function lookTurned(model: OutlineModel, turns: QuarterTurns): Look {
  if (turns === 0) return (photo, tapPx) => coarseSighting(model, photo, tapPx);
  return (photo, tapPx) => {
    const shrink = Math.max(1, Math.max(photo.widthPx, photo.heightPx) / LOOKED_AT_PX);
    const [small] = shrinkPhotoTo(model.cv, photo, [shrink]);
    let turned: Photo = { ...small, lens: photo.lens };
    let tap: ImagePoint | undefined = tapPx && [
      (tapPx[0] + 0.5) / small.shrink - 0.5,
      (tapPx[1] + 0.5) / small.shrink - 0.5,
    ];
    for (let k = 0; k < turns; k++) {
      if (tap) tap = [turned.heightPx - 1 - tap[1], tap[0]];
      turned = turnedOnce(turned);
    }
    const seen = coarseSighting(model, turned, tap);
    return turnedBack(seen, turns, turned, small.shrink);
  };
}

/**
 * What the network sees the way up in which it sees the container's ends and border most clearly. How the card lies is what
 * all ways up say together, each by its odds: a container that stands looks lying in a turned picture, and which of the two
 * explains the outline is for the fit to tell.
 */
export function lookAnyWayUp(
  model: OutlineModel,
  photo: Photo,
  tapPx?: ImagePoint,
): { readonly look: Look; readonly seen: CoarseSighting } {
  const upright = lookTurned(model, 0);
  const first = { look: upright, seen: upright(photo, tapPx) };
  if (clearness(first.seen) > PLAINLY_UPRIGHT) return first;
  const turned = ([1, 2, 3] as const).map((turns) => {
    const look = lookTurned(model, turns);
    return { look, seen: look(photo, tapPx) };
  });
  const ways = [first, ...turned];
  const clear = ways.map(({ seen }, turns) => clearness(seen) + (turns === 0 ? USUALLY_UPRIGHT : 0));
  const clearest = Math.max(...clear);
  const odds = clear.map((one) => Math.exp((one - clearest) / CLEARNESS_SD));
  const all = odds.reduce((sum, one) => sum + one, 0);
  const score = (arrangement: Arrangement) =>
    ways.reduce((sum, { seen }, k) => sum + (odds[k] / all) * seen.arrangementScores[arrangement], 0);
  const best = ways[clear.indexOf(clearest)];
  const arrangementScores = {
    standing: score('standing'),
    lying: score('lying'),
    'card-on-front': score('card-on-front'),
    'card-leaning': score('card-leaning'),
  };
  return { look: best.look, seen: { ...best.seen, arrangementScores } };
}

/**
 * Of 15 photos taken upright 9 are seen more clearly than this, none of them turned by a quarter or a half is.
 * tests/vision/network/look-any-way-up.test.ts
 */
const PLAINLY_UPRIGHT = 1.6;
/** What most pictures' being upright is worth, and a difference that chance makes: e-fold in the odds. */
const USUALLY_UPRIGHT = 0.3;
const CLEARNESS_SD = 0.2;

/**
 * How sure the network is of the container: its belief in both ends, less the entropy of its mask (nat) for each cell that
 * the container covers. 1.3 to 1.9 the right way up, −0.7 to 1.5 otherwise.
 */
export function clearness({ axisPx, bodyMask: { probability } }: CoarseSighting): number {
  let entropy = 0;
  let area = 0;
  for (const p of probability) {
    area += p;
    if (p > 0 && p < 1) entropy -= p * Math.log(p) + (1 - p) * Math.log(1 - p);
  }
  return axisPx.base.confidence + axisPx.top.confidence - entropy / Math.max(area, 1);
}

/** By a quarter, clockwise: pixel (x, y) goes to (height − 1 − y, x). */
function turnedOnce({ widthPx, heightPx, rgba, lens }: Photo): Photo {
  const turned = new Uint8ClampedArray(rgba.length);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const from = 4 * (y * widthPx + x);
      turned.set(rgba.subarray(from, from + 4), 4 * (x * heightPx + heightPx - 1 - y));
    }
  }
  return { widthPx: heightPx, heightPx: widthPx, rgba: turned, lens };
}

function turnedBack(
  seen: CoarseSighting,
  turns: QuarterTurns,
  { widthPx, heightPx }: Photo,
  shrink: number,
): CoarseSighting {
  const place = ([x, y]: ImagePoint): ImagePoint => {
    const [u, v] =
      turns === 1 ? [y, widthPx - 1 - x] : turns === 2 ? [widthPx - 1 - x, heightPx - 1 - y] : [heightPx - 1 - y, x];
    return [(u + 0.5) * shrink - 0.5, (v + 0.5) * shrink - 0.5];
  };
  const point = ({ atPx, confidence }: CoarsePoint): CoarsePoint => ({ atPx: place(atPx), confidence });
  const corner = (of: CoarseCorner): CoarseCorner => ({ ...of, atPx: place(of.atPx) });
  const mask = (of: CoarseMask) => maskBack(of, turns, place, shrink);
  const corners = seen.cardCornersPx;
  return {
    ...seen,
    bodyMask: mask(seen.bodyMask),
    cardMask: mask(seen.cardMask),
    otherMask: mask(seen.otherMask),
    borderMask: mask(seen.borderMask),
    cardCornersPx: corners && [corner(corners[0]), corner(corners[1]), corner(corners[2]), corner(corners[3])],
    axisPx: { base: point(seen.axisPx.base), top: point(seen.axisPx.top) },
  };
}

function maskBack(
  { widthCells: w, heightCells: h, probability, originPx, pxPerCell }: CoarseMask,
  turns: QuarterTurns,
  place: (at: ImagePoint) => ImagePoint,
  shrink: number,
): CoarseMask {
  const [widthCells, heightCells] = turns === 2 ? [w, h] : [h, w];
  const back = new Float32Array(probability.length);
  probability.forEach((p, k) => {
    const [c, r] = [k % w, Math.floor(k / w)];
    const [column, row] = turns === 1 ? [r, w - 1 - c] : turns === 2 ? [w - 1 - c, h - 1 - r] : [h - 1 - r, c];
    back[row * widthCells + column] = p;
  });
  // the cell that has become the first one
  const [c, r] = turns === 1 ? [w - 1, 0] : turns === 2 ? [w - 1, h - 1] : [0, h - 1];
  const [stepX, stepY] = turns === 2 ? pxPerCell : [pxPerCell[1], pxPerCell[0]];
  return {
    widthCells,
    heightCells,
    probability: back,
    originPx: place([originPx[0] + c * pxPerCell[0], originPx[1] + r * pxPerCell[1]]),
    pxPerCell: [stepX * shrink, stepY * shrink],
  };
}
