import type { Cv } from '../opencv/cv.ts';
import { MatScope } from '../opencv/mat-scope.ts';
import type { Photo } from './photo.ts';

/** The photo at a working size. Picture pixel p covers the photo around (p + 0.5) · shrink − 0.5. */
export interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** RGBA, 8 bit, row by row. */
  readonly rgba: Uint8Array | Uint8ClampedArray;
  /** Photo pixels per picture pixel, ≥ 1. */
  readonly shrink: number;
}

/** The photo shrunk by area averaging, once for each factor; factors up to 1 give the photo itself, uncopied. */
export function shrinkPhotoTo(cv: Cv, photo: Photo, shrinks: readonly number[]): Picture[] {
  using mats = new MatScope();
  const full = mats.own(new cv.Mat(photo.heightPx, photo.widthPx, cv.CV_8UC4));
  full.data.set(photo.rgba);
  return shrinks.map((shrink) =>
    shrink <= 1
      ? { widthPx: photo.widthPx, heightPx: photo.heightPx, rgba: photo.rgba, shrink: 1 }
      : shrunk(cv, mats, full, shrink),
  );
}

function shrunk(cv: Cv, mats: MatScope, full: { rows: number; cols: number }, shrink: number): Picture {
  const widthPx = Math.max(Math.round(full.cols / shrink), 1);
  const heightPx = Math.max(Math.round(full.rows / shrink), 1);
  const small = mats.own(new cv.Mat());
  cv.resize(full as never, small, new cv.Size(widthPx, heightPx), 0, 0, cv.INTER_AREA);
  return { widthPx, heightPx, rgba: small.data.slice(), shrink: full.cols / widthPx };
}
