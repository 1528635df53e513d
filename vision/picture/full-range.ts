import type { Photo } from './photo.ts';

/** Levels (of 255) that the darkest and the brightest hundredth of a well exposed photo lie at, more or less. */
const DARK_LEVEL = 12;
const BRIGHT_LEVEL = 225;
/** Photos whose levels span at least this much are left alone. */
const ENOUGH_SPAN = 100;
/** Beyond this, grain is all that is spread. */
const MOST_GAIN = 3;
/** Every so many pixels are looked at. */
const SAMPLING = 61;

/**
 * A photo that is too dark or too pale with its levels spread as a well exposed one's, so that edges are as clear in it
 * and the network sees what it knows; any other photo as it is.
 */
export function withFullRange(photo: Photo): Photo {
  const { rgba } = photo;
  const counts = new Uint32Array(256);
  let sampled = 0;
  for (let i = 0; i < rgba.length; i += 4 * SAMPLING) {
    counts[(rgba[i] + 2 * rgba[i + 1] + rgba[i + 2]) >> 2]++;
    sampled++;
  }
  const dark = quantile(counts, 0.01 * sampled);
  const bright = quantile(counts, 0.99 * sampled);
  if (bright - dark >= ENOUGH_SPAN) return photo;
  const gain = Math.min((BRIGHT_LEVEL - DARK_LEVEL) / Math.max(bright - dark, 1), MOST_GAIN);
  const levels = Uint8ClampedArray.from({ length: 256 }, (_, level) => DARK_LEVEL + gain * (level - dark));
  const spread = new Uint8Array(rgba.length);
  for (let i = 0; i < rgba.length; i += 4) {
    spread[i] = levels[rgba[i]];
    spread[i + 1] = levels[rgba[i + 1]];
    spread[i + 2] = levels[rgba[i + 2]];
    spread[i + 3] = rgba[i + 3];
  }
  return { ...photo, rgba: spread };
}

function quantile(counts: Uint32Array, rank: number): number {
  let passed = 0;
  return counts.findIndex((count) => {
    passed += count;
    return passed > rank;
  });
}
