import type { ImagePoint } from '../geometry/frames.ts';
import type { Cv } from '../opencv/cv.ts';
import { MatScope } from '../opencv/mat-scope.ts';
import type { Photo } from './photo.ts';

/** Long side of the reduced picture in which cards are looked for: a card 120 px wide in 12 MP still spans 30 px. */
const LONG_SIDE_PX = 1008;

/** Weight of the colour differences against lightness, so that one grey level and one just visible hue step weigh alike. */
const COLOUR_WEIGHT = 0.5;

/** The photo reduced by area averaging and split into lightness and two colour differences, 8-bit scale. */
export interface WorkingImage {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Full-size px per working px, across and down. */
  readonly photoPerWorkingPx: readonly [x: number, y: number];
  /** Red, green, blue and alpha, 8 bit. */
  readonly rgba: Uint8Array;
  /** Lightness, red minus green, yellow minus blue; row by row. */
  readonly planes: readonly [Float32Array, Float32Array, Float32Array];
}

export function workingImage(cv: Cv, photo: Photo): WorkingImage {
  using mats = new MatScope();
  const shrink = Math.min(1, LONG_SIDE_PX / Math.max(photo.widthPx, photo.heightPx));
  const widthPx = Math.max(1, Math.round(photo.widthPx * shrink));
  const heightPx = Math.max(1, Math.round(photo.heightPx * shrink));
  const full = mats.own(new cv.Mat(photo.heightPx, photo.widthPx, cv.CV_8UC4));
  full.data.set(photo.rgba);
  const small = mats.own(new cv.Mat());
  cv.resize(full, small, new cv.Size(widthPx, heightPx), 0, 0, cv.INTER_AREA);
  const rgba = small.data.slice();
  return {
    widthPx,
    heightPx,
    photoPerWorkingPx: [photo.widthPx / widthPx, photo.heightPx / heightPx],
    rgba,
    planes: opponentPlanes(rgba, widthPx * heightPx),
  };
}

/** Pixel centres are at whole numbers in both pictures, so the two half pixels at the border differ. */
export function photoFromWorking(image: WorkingImage, xPx: number, yPx: number): ImagePoint {
  const [sx, sy] = image.photoPerWorkingPx;
  return [(xPx + 0.5) * sx - 0.5, (yPx + 0.5) * sy - 0.5];
}

export function workingFromPhoto(image: WorkingImage, [xPx, yPx]: ImagePoint): ImagePoint {
  const [sx, sy] = image.photoPerWorkingPx;
  return [(xPx + 0.5) / sx - 0.5, (yPx + 0.5) / sy - 0.5];
}

function opponentPlanes(rgba: Uint8Array, count: number): [Float32Array, Float32Array, Float32Array] {
  const lightness = new Float32Array(count);
  const redGreen = new Float32Array(count);
  const yellowBlue = new Float32Array(count);
  for (let i = 0, j = 0; i < count; i++, j += 4) {
    const red = rgba[j];
    const green = rgba[j + 1];
    const blue = rgba[j + 2];
    lightness[i] = 0.299 * red + 0.587 * green + 0.114 * blue;
    redGreen[i] = COLOUR_WEIGHT * (red - green);
    yellowBlue[i] = COLOUR_WEIGHT * (0.5 * (red + green) - blue);
  }
  return [lightness, redGreen, yellowBlue];
}
