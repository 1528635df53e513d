import { isInside } from '../flat-piece/coarse-picture.ts';
import { median } from '../flat-piece/fit-round-edge.ts';
import { type Ellipse, pointOn } from '../geometry/ellipse.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import type { CardSighting } from '../sighting.ts';
import { type CoinView, coinSighting, rimThrough } from './coin-sighting.ts';
import { type FoundRim, findRounds } from './find-round.ts';

export interface CoinHints {
  /** A point on the coin. */
  readonly nearPx?: ImagePoint;
  /** Where the container is: its ends are round, too. */
  readonly bodyMask?: CoarseMask;
}

/** Tables are photographed from 16° up: what is flatter is too oblique to measure with. */
const LEAST_RATIO = 0.27;
/** Radii of its own from the container beyond which a round thing is another thing. */
const FARTHEST = 8;
/** Ellipses about a rim along which colours are averaged, as multiples of it: inner rings are 0.69 to 0.76 of a coin (from memory). */
const FIRST_RING = 1.14;
const RING_STEP = 0.025;
const RINGS = 19;
const DIRECTIONS = 180;
/** 8-bit levels, and multiples of the usual step, that only another rim makes on all sides. */
const LEAST_STEP_LEVELS = 14;
const OUTSTANDING = 5;
/**
 * The whole rim is found too far out or in by about this in pictures of up to 2000 px, mostly by the coin's own shadow: root
 * mean square of nine path-traced coins of some 90 px (tests/studies/make-coin-samples.ts).
 */
const HALO_SD_PX = 0.8;

/**
 * Finds a coin or disc beside a container: of the round things that are no part of it the nearest, in multiples of its own
 * size, or the one that was tapped.
 */
export function findCoin(cv: Cv, photo: Photo, view: CoinView, { nearPx, bodyMask }: CoinHints): CardSighting | null {
  const rims = findRounds(cv, photo, LEAST_RATIO);
  const rim = nearPx
    ? rims.find(({ rimPx }) => isInside(rimPx, nearPx))
    : bodyMask
      ? besideBody(rims, bodyMask)
      : rims[0];
  if (!rim || isRingInside(photo, rim.ellipse)) return null;
  const haloSdPx = HALO_SD_PX * Math.max(1, Math.max(photo.widthPx, photo.heightPx) / 2000);
  const sighted = rimThrough(rim.rimPx, rim.pointSdPx, haloSdPx);
  return sighted ? coinSighting(sighted, view) : null;
}

function besideBody(rims: readonly FoundRim[], bodyMask: CoarseMask): FoundRim | undefined {
  const places = rims.flatMap((rim) => {
    const away = distanceToBody(bodyMask, rim.ellipse.middle) / rim.ellipse.long;
    const isBeside = away > 0 && (away < FARTHEST || away === Number.POSITIVE_INFINITY);
    return isBeside ? [{ rim, away }] : [];
  });
  return places.sort((a, b) => a.away - b.away)[0]?.rim;
}

/** From a point to the container, photo px; 0 inside it, endless where there is none. */
function distanceToBody(
  { widthCells, heightCells, probability, originPx, pxPerCell }: CoarseMask,
  at: ImagePoint,
): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (let row = 0; row < heightCells; row++) {
    for (let column = 0; column < widthCells; column++) {
      if (probability[row * widthCells + column] < 0.5) continue;
      const [dx, dy] = [originPx[0] + column * pxPerCell[0] - at[0], originPx[1] + row * pxPerCell[1] - at[1]];
      const isInCell = Math.abs(dx) <= pxPerCell[0] / 2 && Math.abs(dy) <= pxPerCell[1] / 2;
      nearest = Math.min(nearest, isInCell ? 0 : Math.hypot(dx, dy));
    }
  }
  return nearest;
}

/**
 * Whether another, fainter rim runs around this one: then it is the ring inside a coin of two metals, or a coin on a
 * coaster. The step in colour outwards is averaged all round, which table grain and shadows do not survive.
 */
function isRingInside(photo: Photo, ellipse: Ellipse): boolean {
  const rings = Array.from({ length: RINGS }, (_, i) => meanColour(photo, ellipse, FIRST_RING + i * RING_STEP));
  const steps = rings.slice(2).map((ring, i) => Math.hypot(...ring.map((level, k) => level - rings[i][k])));
  return Math.max(...steps) > Math.max(LEAST_STEP_LEVELS, OUTSTANDING * median(steps));
}

/** Along an ellipse a few times as large, 8-bit levels; what lies outside the photo is left out. */
function meanColour(photo: Photo, ellipse: Ellipse, times: number): readonly number[] {
  const larger = { ...ellipse, long: times * ellipse.long, short: times * ellipse.short };
  const sum = [0, 0, 0, 0];
  for (let i = 0; i < DIRECTIONS; i++) {
    const [x, y] = pointOn(larger, (2 * Math.PI * i) / DIRECTIONS).map(Math.round);
    if (x < 0 || y < 0 || x >= photo.widthPx || y >= photo.heightPx) continue;
    for (let k = 0; k < 3; k++) sum[k] += photo.rgba[4 * (y * photo.widthPx + x) + k];
    sum[3] += 1;
  }
  return sum.slice(0, 3).map((total) => total / Math.max(sum[3], 1));
}
