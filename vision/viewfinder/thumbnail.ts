/** A picture of few pixels in which movement of the camera and lack of light still show: RGBA, 8 bit, row by row. */
export interface Thumbnail {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgba: Uint8ClampedArray;
}

/** Mean change of lightness beyond which the camera moved: sensor noise of a dim room changes a thumbnail by under 2 of 255. */
const MOVED_LEVELS = 6;

/** Whether the camera moved between two thumbnails of one size. What changes in lightness everywhere alike is exposure. */
export function hasMoved(before: Thumbnail, now: Thumbnail): boolean {
  const [a, b] = [lightness(before), lightness(now)];
  const gain = mean(b) - mean(a);
  return mean(a.map((level, i) => Math.abs(b[i] - level - gain))) > MOVED_LEVELS;
}

/** Mean lightness below which noise is a good part of what is seen, of 255. */
const DARK_LEVEL = 30;

export function isDark(thumbnail: Thumbnail): boolean {
  return mean(lightness(thumbnail)) < DARK_LEVEL;
}

function lightness({ rgba }: Thumbnail): number[] {
  return Array.from({ length: rgba.length / 4 }, (_, i) => (rgba[4 * i] + 2 * rgba[4 * i + 1] + rgba[4 * i + 2]) / 4);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(values.length, 1);
}
