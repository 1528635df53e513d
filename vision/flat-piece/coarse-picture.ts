import type { ImagePoint } from '../geometry/frames.ts';
import type { Photo } from '../picture/photo.ts';
import { LINEAR_LIGHT } from '../reference/sample-photo.ts';

const LONG_SIDE_PX = 480;
/** Light below this (of 255) is mostly noise; added before the logarithm. */
export const DARK_LEVEL = 2;

/** The photo reduced by area averaging, as logarithms of light: a shadow adds the same to all three channels. */
export interface CoarsePicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Photo px per coarse px. */
  readonly scaleX: number;
  readonly scaleY: number;
  /** Red, green, blue, row by row. */
  readonly logLight: readonly [Float32Array, Float32Array, Float32Array];
}

export function coarsePicture(photo: Photo): CoarsePicture {
  const shrink = Math.min(1, LONG_SIDE_PX / Math.max(photo.widthPx, photo.heightPx));
  const widthPx = Math.max(1, Math.round(photo.widthPx * shrink));
  const heightPx = Math.max(1, Math.round(photo.heightPx * shrink));
  const sums = [0, 1, 2].map(() => new Float32Array(widthPx * heightPx));
  const counts = new Float32Array(widthPx * heightPx);
  for (let v = 0, i = 0; v < photo.heightPx; v++) {
    const row = Math.min(heightPx - 1, Math.floor((v * heightPx) / photo.heightPx)) * widthPx;
    for (let u = 0; u < photo.widthPx; u++, i += 4) {
      const at = row + Math.min(widthPx - 1, Math.floor((u * widthPx) / photo.widthPx));
      sums[0][at] += LINEAR_LIGHT[photo.rgba[i]];
      sums[1][at] += LINEAR_LIGHT[photo.rgba[i + 1]];
      sums[2][at] += LINEAR_LIGHT[photo.rgba[i + 2]];
      counts[at]++;
    }
  }
  const [red, green, blue] = sums.map((sum) => sum.map((value, k) => Math.log(value / counts[k] + DARK_LEVEL)));
  return {
    widthPx,
    heightPx,
    scaleX: photo.widthPx / widthPx,
    scaleY: photo.heightPx / heightPx,
    logLight: [red, green, blue],
  };
}

/** Photo coordinates of the middle of a coarse pixel. */
export function photoFromCoarse(picture: CoarsePicture, xPx: number, yPx: number): ImagePoint {
  return [(xPx + 0.5) * picture.scaleX - 0.5, (yPx + 0.5) * picture.scaleY - 0.5];
}

/** Marks the pixels inside a closed polygon given in photo coordinates, by the even–odd rule. */
export function polygonMask(picture: CoarsePicture, polygonPx: readonly ImagePoint[]): Uint8Array {
  const mask = new Uint8Array(picture.widthPx * picture.heightPx);
  for (let v = 0; v < picture.heightPx; v++) {
    for (let u = 0; u < picture.widthPx; u++) {
      if (isInside(polygonPx, photoFromCoarse(picture, u, v))) mask[v * picture.widthPx + u] = 1;
    }
  }
  return mask;
}

export function isInside(polygon: readonly (readonly [number, number])[], [x, y]: readonly [number, number]): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const [xi, yi] = polygon[i];
    const [xj, yj] = polygon[j];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}
