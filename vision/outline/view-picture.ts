import type { ImagePoint } from '../geometry/frames.ts';
import type { Picture } from '../picture/picture.ts';
import { type AxisView, imageFromView } from './axis-view.ts';

/** The photo drawn in an axis view: three opponent colour planes (brightness, red-green, yellow-blue), row by row. */
export interface ViewPicture {
  readonly columns: number;
  readonly rows: number;
  readonly planes: readonly [Float32Array, Float32Array, Float32Array];
  /** 1 where the view pixel lies in the photo, 0 beyond its border. */
  readonly inPhoto: Uint8Array;
  /** Photo position of each view pixel, NaN behind the camera: x and y planes. */
  readonly photoX: Float32Array;
  readonly photoY: Float32Array;
}

/** Colour counts somewhat more than brightness: shadows change brightness only. */
const COLOUR_WEIGHT = 1.5;

export function drawView(view: AxisView, picture: Picture): ViewPicture {
  const { columns, rows } = view;
  const size = columns * rows;
  const planes = [new Float32Array(size), new Float32Array(size), new Float32Array(size)] as const;
  const inPhoto = new Uint8Array(size);
  const photoX = new Float32Array(size).fill(Number.NaN);
  const photoY = new Float32Array(size).fill(Number.NaN);
  const colour = new Float32Array(3);
  for (let row = 0, at = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++, at++) {
      const place = imageFromView(view, column, row);
      if (!place) continue;
      photoX[at] = place[0];
      photoY[at] = place[1];
      inPhoto[at] = sampleColour(picture, place, colour) ? 1 : 0;
      planes[0][at] = colour[0];
      planes[1][at] = colour[1];
      planes[2][at] = colour[2];
    }
  }
  return { columns, rows, planes, inPhoto, photoX, photoY };
}

/**
 * Bilinear opponent colour at a photo position, 0..255 scale.
 * @returns false outside the photo, where the nearest border colour is given
 */
export function sampleColour(picture: Picture, [xPx, yPx]: ImagePoint, colour: Float32Array): boolean {
  const { widthPx, heightPx, rgba, shrink } = picture;
  let x = (xPx + 0.5) / shrink - 0.5;
  let y = (yPx + 0.5) / shrink - 0.5;
  const inside = x >= -0.5 && y >= -0.5 && x <= widthPx - 0.5 && y <= heightPx - 0.5;
  x = Math.min(Math.max(x, 0), widthPx - 1.001);
  y = Math.min(Math.max(y, 0), heightPx - 1.001);
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  const fx = x - x0;
  const fy = y - y0;
  const i = 4 * (y0 * widthPx + x0);
  const j = i + 4 * widthPx;
  const a = (1 - fx) * (1 - fy);
  const b = fx * (1 - fy);
  const c = (1 - fx) * fy;
  const d = fx * fy;
  const red = a * rgba[i] + b * rgba[i + 4] + c * rgba[j] + d * rgba[j + 4];
  const green = a * rgba[i + 1] + b * rgba[i + 5] + c * rgba[j + 1] + d * rgba[j + 5];
  const blue = a * rgba[i + 2] + b * rgba[i + 6] + c * rgba[j + 2] + d * rgba[j + 6];
  colour[0] = (red + green + blue) / 3;
  colour[1] = COLOUR_WEIGHT * 0.5 * (red - green);
  colour[2] = COLOUR_WEIGHT * 0.5 * (0.5 * (red + green) - blue);
  return inside;
}
