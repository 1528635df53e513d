import type { Photo } from './photo.ts';

/** Median lightness (of 255) below which nothing can be made out. */
const TOO_DARK_LEVEL = 20;
/** Distances are counted in the px of a picture with this long side. */
const REFERENCE_LONG_SIDE_PX = 1500;
/** Pixels on either side within which an edge is taken as a whole, and a step there that is worth a look. */
const SPAN_PX = 12;
const MIN_STEP_LEVELS = 40;
/** Steepest slope over step of the sharpest edges: 0.3 and more in sharp renders, 0.15 after a blur of 5 px. */
const BLURRED_SLOPE = 0.16;
const MIN_EDGES = 40;
const LINES = 60;

/** What is wrong with the whole photo, when it is: `null` for one that is bright and sharp enough somewhere. */
export function photoTrouble(photo: Photo): 'too-dark' | 'blurred' | null {
  const levels: number[] = [];
  const slopes: number[] = [];
  for (let line = 0; line < LINES; line++) {
    const y = Math.floor(((line + 0.5) * photo.heightPx) / LINES);
    const x = Math.floor(((line + 0.5) * photo.widthPx) / LINES);
    lookAlong(photo, 4 * y * photo.widthPx, 4, photo.widthPx, levels, slopes);
    lookAlong(photo, 4 * x, 4 * photo.widthPx, photo.heightPx, levels, slopes);
  }
  levels.sort((a, b) => a - b);
  if (levels[levels.length >> 1] < TOO_DARK_LEVEL) return 'too-dark';
  slopes.sort((a, b) => a - b);
  // the sharpest tenth: out-of-focus backgrounds are no trouble
  if (slopes.length >= MIN_EDGES && slopes[Math.floor(0.9 * slopes.length)] < BLURRED_SLOPE) return 'blurred';
  return null;
}

/** Adds every 16th pixel's green level, and for every strong step its steepest slope over the step's height. */
function lookAlong(
  { rgba, widthPx, heightPx }: Photo,
  start: number,
  stride: number,
  count: number,
  levels: number[],
  slopes: number[],
): void {
  const unit = Math.max(1, Math.round(Math.max(widthPx, heightPx) / REFERENCE_LONG_SIDE_PX));
  const span = SPAN_PX * unit;
  const green = (k: number): number => rgba[start + k * stride + 1];
  for (let k = 0; k < count; k += 16) levels.push(green(k));
  for (let k = span; k < count - span; k += span) {
    const step = Math.abs(green(k + span) - green(k - span));
    if (step < MIN_STEP_LEVELS) continue;
    let steepest = 0;
    for (let i = k - span; i < k + span - unit; i++)
      steepest = Math.max(steepest, Math.abs(green(i + unit) - green(i)));
    slopes.push(steepest / step);
  }
}
