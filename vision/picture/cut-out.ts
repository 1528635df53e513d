import type { Photo } from './photo.ts';

export interface CutOut {
  readonly picture: Photo;
  /** Photo pixel of the picture's first one. */
  readonly left: number;
  readonly top: number;
}

/** Photo frame, px. */
export type Box = readonly [left: number, top: number, right: number, bottom: number];

/** The part of the photo within a box, clipped to the photo; pixels are copied. */
export function cutOut(photo: Photo, box: Box): CutOut {
  const left = Math.round(Math.min(Math.max(box[0], 0), photo.widthPx - 1));
  const top = Math.round(Math.min(Math.max(box[1], 0), photo.heightPx - 1));
  const widthPx = Math.max(1, Math.round(Math.min(box[2], photo.widthPx) - left));
  const heightPx = Math.max(1, Math.round(Math.min(box[3], photo.heightPx) - top));
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    const from = 4 * ((top + row) * photo.widthPx + left);
    rgba.set(photo.rgba.subarray(from, from + 4 * widthPx), 4 * row * widthPx);
  }
  return { picture: { ...photo, widthPx, heightPx, rgba }, left, top };
}
