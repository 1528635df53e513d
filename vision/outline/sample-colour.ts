import type { ImagePoint } from '../geometry/frames.ts';
import type { Picture } from '../picture/picture.ts';

/** Colour counts somewhat more than brightness: shadows change brightness only. */
const COLOUR_WEIGHT = 1.5;

/**
 * Bilinear opponent colour (brightness, red-green, yellow-blue) at a photo position, 0..255 scale.
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
