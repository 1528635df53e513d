import type { Photo } from '../picture/photo.ts';

/** Pixel values as stored: even steps to the eye. */
export const DISPLAY_LIGHT = Float32Array.from({ length: 256 }, (_, level) => level);

/**
 * Amount of light, 0..255. Lens blur mixes light, not display values: there a bright card grows on a dark table.
 * Source: sRGB transfer function (IEC 61966-2-1).
 */
export const LINEAR_LIGHT = Float32Array.from({ length: 256 }, (_, level) => {
  const v = level / 255;
  return 255 * (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
});

/** What sampling needs of a photo, or of a reduced copy. */
export type Pixels = Pick<Photo, 'widthPx' | 'heightPx' | 'rgba'>;

/** Red, green and blue at a point between pixels, bilinear, edges repeated; written to out[at..at+2]. */
export function samplePhoto(
  photo: Pixels,
  light: Float32Array,
  xPx: number,
  yPx: number,
  out: Float32Array,
  at: number,
): void {
  const { widthPx, heightPx, rgba } = photo;
  const x = Math.max(0, Math.min(widthPx - 1, xPx));
  const y = Math.max(0, Math.min(heightPx - 1, yPx));
  const left = x | 0;
  const top = y | 0;
  const fx = x - left;
  const fy = y - top;
  const a = 4 * (top * widthPx + left);
  const b = left < widthPx - 1 ? a + 4 : a;
  const down = top < heightPx - 1 ? 4 * widthPx : 0;
  const wa = (1 - fx) * (1 - fy);
  const wb = fx * (1 - fy);
  const wc = (1 - fx) * fy;
  const wd = fx * fy;
  for (let k = 0; k < 3; k++) {
    out[at + k] =
      wa * light[rgba[a + k]] +
      wb * light[rgba[b + k]] +
      wc * light[rgba[a + down + k]] +
      wd * light[rgba[b + down + k]];
  }
}
