import type { ImagePoint } from '../frames.ts';
import type { Cv } from '../opencv/cv.ts';
import type { CoarseMask } from '../outline-model/coarse-sighting.ts';
import type { Photo } from '../photo.ts';
import type { CardSighting } from '../sighting.ts';
import { isInside } from '../work/coarse-picture.ts';
import { type Ellipse, ellipseThrough, pointOn } from '../work/ellipse.ts';
import { type FoundRim, findRounds } from '../work/find-round.ts';
import { median } from '../work/fit-round-edge.ts';
import { type CoinView, coinSighting, rimThrough } from './coin-sighting.ts';

export interface CoinHints {
  /** A point on the coin. */
  readonly nearPx?: ImagePoint;
  /** Where the container is: its ends are round, too. */
  readonly bodyMask?: CoarseMask;
}

/** Tables are photographed from 16° up: what is flatter is too oblique to measure with. */
const LEAST_RATIO = 0.27;
/** Ellipses about a rim along which colours are averaged, as multiples of it: inner rings are 0.69 to 0.76 of a coin (from memory). */
const FIRST_RING = 1.14;
const RING_STEP = 0.025;
const RINGS = 19;
const DIRECTIONS = 180;
/** 8-bit levels, and multiples of the usual step, that only another rim makes on all sides. */
const LEAST_STEP_LEVELS = 14;
const OUTSTANDING = 5;
/** The whole rim is found too far out or in by about this at 2000 px, where the coin shines or its edge is blurred. */
const HALO_SD_PX = 0.3;

/**
 * Finds a coin or disc beside a container: the sharpest round thing that is no part of the container, or the one that was
 * tapped.
 */
export function findCoin(cv: Cv, photo: Photo, view: CoinView, { nearPx, bodyMask }: CoinHints): CardSighting | null {
  const rims = findRounds(cv, photo, LEAST_RATIO);
  const rim = nearPx
    ? rims.find(({ rimPx }) => isInside(rimPx, nearPx))
    : rims.find(({ rimPx }) => !(bodyMask && isBody(bodyMask, middleOf(rimPx))));
  if (!rim || isRingInside(photo, rim.rimPx)) return null;
  const haloSdPx = HALO_SD_PX * Math.max(1, Math.max(photo.widthPx, photo.heightPx) / 2000);
  const sighted = rimThrough(rim.rimPx, rim.pointSdPx, haloSdPx);
  return sighted ? coinSighting(sighted, view) : null;
}

function middleOf(rimPx: FoundRim['rimPx']): ImagePoint {
  const mean = (k: 0 | 1) => rimPx.reduce((sum, point) => sum + point[k], 0) / rimPx.length;
  return [mean(0), mean(1)];
}

function isBody(
  { widthCells, heightCells, probability, originPx, pxPerCell }: CoarseMask,
  [x, y]: ImagePoint,
): boolean {
  const column = Math.round((x - originPx[0]) / pxPerCell[0]);
  const row = Math.round((y - originPx[1]) / pxPerCell[1]);
  const isOnGrid = column >= 0 && row >= 0 && column < widthCells && row < heightCells;
  return isOnGrid && probability[row * widthCells + column] > 0.5;
}

/**
 * Whether another, fainter rim runs around this one: then it is the ring inside a coin of two metals, or a coin on a
 * coaster. The step in colour outwards is averaged all round, which table grain and shadows do not survive.
 */
function isRingInside(photo: Photo, rimPx: FoundRim['rimPx']): boolean {
  const ellipse = ellipseThrough(rimPx);
  if (!ellipse) return false;
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
