import type { ImagePoint } from '../frames.ts';
import type { Cv } from '../opencv/cv.ts';
import type { CoarseMask } from '../outline-model/coarse-sighting.ts';
import type { Photo } from '../photo.ts';
import type { CardSighting } from '../sighting.ts';
import { isInside } from '../work/coarse-picture.ts';
import { type FoundRim, findRounds } from '../work/find-round.ts';
import { type CoinView, coinSighting, rimThrough } from './coin-sighting.ts';

export interface CoinHints {
  /** A point on the coin. */
  readonly nearPx?: ImagePoint;
  /** Where the container is: its ends are round, too. */
  readonly bodyMask?: CoarseMask;
}

/** Tables are photographed from 16° up: what is flatter is too oblique to measure with. */
const LEAST_RATIO = 0.27;
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
  const haloSdPx = HALO_SD_PX * Math.max(1, Math.max(photo.widthPx, photo.heightPx) / 2000);
  const sighted = rim && rimThrough(rim.rimPx, rim.pointSdPx, haloSdPx);
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
