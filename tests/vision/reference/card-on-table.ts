import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { cardInPhoto } from '../../../vision/reference/card-in-photo.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { drawTable, type FlatThing, mulberry, type TableScene } from './draw-table.ts';
import { wood } from './surfaces.ts';

export const { cv } = await loadOpenCv();
export const rad = (degrees: number): number => (degrees * Math.PI) / 180;

export const TABLE: Omit<TableScene, 'things'> = {
  widthPx: 900,
  heightPx: 700,
  focalPx: 720,
  tiltRad: rad(25),
  rollRad: 0,
  distanceMm: 280,
  ground: wood(),
  noiseLevels: 1.5,
  seed: 7,
};

export function choose(photo: Photo, reference = ID1_CARD, hint?: { readonly cornersPx: CornersPx }) {
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  return cardInPhoto(cv, photo, { focalPrior, reference, hint });
}

/** Largest corner error as a share of the card's width; infinite when no card was chosen. */
export function cornerError(
  photo: Photo,
  truth: CornersPx,
  reference = ID1_CARD,
  hint?: { readonly cornersPx: CornersPx },
): number {
  const choice = choose(photo, reference, hint);
  if (!('card' in choice)) return Number.POSITIVE_INFINITY;
  const found = choice.card.cornersPx;
  const errors = [0, 1, 2, 3].map((turn) =>
    Math.max(...truth.map(([x, y], k) => Math.hypot(x - found[(k + turn) % 4][0], y - found[(k + turn) % 4][1]))),
  );
  const side = (k: number): number => Math.hypot(truth[k + 1][0] - truth[k][0], truth[k + 1][1] - truth[k][1]);
  return Math.min(...errors) / Math.max(side(0), side(1));
}

/** Each corner moved in a direction of its own. */
export function strayed(cornersPx: CornersPx, offPx: readonly number[]): CornersPx {
  const random = mulberry(5);
  return cornersPx.map(([x, y], k) => {
    const angle = 2 * Math.PI * random();
    return [x + offPx[k] * Math.cos(angle), y + offPx[k] * Math.sin(angle)];
  }) as unknown as CornersPx;
}

/** The card is the first thing; the rest lies over or beside it. */
export function errorOn(scene: Partial<TableScene>, things: readonly FlatThing[]): number {
  const { photo, cornersPx } = drawTable({ ...TABLE, ...scene, things });
  return cornerError(photo, cornersPx[0]);
}
