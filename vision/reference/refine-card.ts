import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import type { CardSide, CardSighting } from '../sighting.ts';
import { type FaceShift, faceShifts } from './edge-face.ts';
import { type FittedSide, fitSide } from './fit-side.ts';
import { lensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import { DISPLAY_LIGHT, LINEAR_LIGHT } from './sample-photo.ts';
import { type SideLine, sideLine, sideProfiles } from './side-profiles.ts';
import { quadFromLines } from './side-support.ts';

export interface RefineOptions {
  readonly focalPrior: FocalPrior;
  readonly reference: FlatReference;
}

/** Search widths across a side as shares of the card's long side, wide to narrow. */
interface Round {
  readonly reach: number;
  readonly rows: number;
  readonly light: Float32Array;
}
const ROUNDS: readonly Round[] = [
  { reach: 0.026, rows: 60, light: DISPLAY_LIGHT },
  { reach: 0.013, rows: 90, light: DISPLAY_LIGHT },
  { reach: 0.016, rows: 120, light: LINEAR_LIGHT },
  { reach: 0.011, rows: 120, light: LINEAR_LIGHT },
];
const MIN_REACH_PX = 3;
const MAX_REACH_PX = 14;

/** Standard deviation allowed to ln(proportion) and to the cosine of the angles, once refined: lens distortion, bent cards. */
const SHAPE_SD = 0.015;
/** A pixel of corner error counts for more on a small or foreshortened card. */
const CORNER_SD_PX = 1;

export function shapeSd(quad: Quad): number {
  const sides = [0, 2, 4, 6].map((k) => Math.hypot(quad[(k + 2) % 8] - quad[k], quad[(k + 3) % 8] - quad[k + 1]));
  return Math.hypot(SHAPE_SD, CORNER_SD_PX / Math.min(...sides));
}

/** Left out at each end: the rounded corner and the blur around it. */
const CORNER_ZONE_RADII = 1.57;
const MIN_CORNER_ZONE = 0.03;

/**
 * What is left of an edge's position when it is well seen: sampling and compression, and a share of its blur, because
 * the camera's tone curve and sharpening act after the blur and move a bright card's border outwards.
 */
const POSITION_FLOOR_PX = 0.1;
const POSITION_FLOOR_BLURS = 0.25;
/** Neighbouring samples of one side share their errors (compression blocks are 8 px): this many are independent. */
const INDEPENDENT_SAMPLES = 12;

/**
 * The reference's sides to a fraction of a pixel, from corners that are right to about 2 % of its width.
 * @param cornersPx  any order around the card
 * @returns corners clockwise from the top-left one, each side with its edge samples and standard uncertainty
 */
export function refineCard(photo: Photo, cornersPx: CornersPx, options: RefineOptions): CardSighting {
  const refined = refineQuad(photo, clockwise(cornersPx), options, ROUNDS);
  return finishCard(photo, refined, options, 1);
}

/** Tells the visible face's border from the edge face beside it, and gives each side its standard uncertainty. */
export function finishCard(photo: Photo, refined: RefinedQuad, options: RefineOptions, score: number): CardSighting {
  const { focalPrior, reference } = options;
  const lens = lensGuess(focalPrior, photo.widthPx, photo.heightPx, 1);
  const view = viewAsRectangle(refined.quad, lens, reference, shapeSd(refined.quad));
  if (!view || refined.sides.length < 4) return sightingOf(photo, refined.quad, refined.sides, options, score);
  const shifts = faceShifts(photo, refined.quad, view.longSide, view.focalPx, reference);
  const sides = refined.sides.map((side, k): RefinedSide => shiftSide(side, shifts[k]));
  const quad = quadFromSides(sides) ?? refined.quad;
  return sightingOf(photo, quad, sides, options, score);
}

function shiftSide({ line, fit }: RefinedSide, { shiftPx, sdPx, blurPx }: FaceShift): RefinedSide {
  return {
    line,
    extraSdPx: Math.hypot(sdPx, POSITION_FLOOR_BLURS * blurPx),
    fit: {
      ...fit,
      offsetAPx: fit.offsetAPx + shiftPx,
      offsetBPx: fit.offsetBPx + shiftPx,
      samples: fit.samples.map(([t, o]) => [t, o + shiftPx] as const),
    },
  };
}

export interface RefinedQuad {
  readonly quad: Quad;
  readonly sides: readonly RefinedSide[];
}
export interface RefinedSide {
  /** Line around which the fit's offsets are counted. */
  readonly line: SideLine;
  readonly fit: FittedSide;
  /** Standard uncertainty beyond the samples' scatter, px. */
  readonly extraSdPx?: number;
}

/** Enough to compare candidates. */
export const QUICK_ROUNDS: readonly Round[] = [
  { reach: 0.026, rows: 24, light: DISPLAY_LIGHT },
  { reach: 0.013, rows: 32, light: DISPLAY_LIGHT },
];
export const FINE_ROUNDS = ROUNDS.slice(1);

export function refineQuad(photo: Photo, start: Quad, options: RefineOptions, rounds: readonly Round[]): RefinedQuad {
  let quad = start;
  let sides: RefinedSide[] = [];
  for (const round of rounds) {
    const refined = refineOnce(photo, quad, options.reference, round);
    sides = refined.sides;
    if (!refined.quad) break;
    quad = refined.quad;
  }
  return { quad, sides };
}

function refineOnce(
  photo: Photo,
  quad: Quad,
  reference: FlatReference,
  round: Round,
): { quad: Quad | null; sides: RefinedSide[] } {
  const lines = [0, 1, 2, 3].map((k) =>
    sideLine(quad[2 * k], quad[2 * k + 1], quad[(2 * k + 2) % 8], quad[(2 * k + 3) % 8]),
  );
  const [a, b, c, d] = lines.map((line) => line.lengthPx);
  const widthPx = Math.max(a + c, b + d) / 2;
  const even = a + c > b + d;
  const reachPx = Math.min(MAX_REACH_PX, Math.max(MIN_REACH_PX, round.reach * widthPx));
  const sides = lines.map((line, k): RefinedSide => {
    const sideMm = (k % 2 === 0) === even ? reference.widthMm : reference.heightMm;
    const skip = Math.max(MIN_CORNER_ZONE, (CORNER_ZONE_RADII * reference.cornerRadiusMm) / sideMm);
    const fit = fitSide(sideProfiles(photo, round.light, line, round.rows, reachPx, skip));
    return { line, fit };
  });
  return { quad: quadFromSides(sides), sides };
}

function quadFromSides(sides: readonly RefinedSide[]): Quad | null {
  const coefficients = sides.flatMap(({ line, fit }) => {
    const x0 = line.ax + fit.offsetAPx * line.outX;
    const y0 = line.ay + fit.offsetAPx * line.outY;
    const x1 = line.bx + fit.offsetBPx * line.outX;
    const y1 = line.by + fit.offsetBPx * line.outY;
    return [y0 - y1, x1 - x0, x1 * y0 - x0 * y1];
  });
  return quadFromLines(coefficients);
}

export function sightingOf(
  photo: Photo,
  quad: Quad,
  refined: readonly RefinedSide[],
  { focalPrior, reference }: RefineOptions,
  score: number,
): CardSighting {
  const first = topLeft(quad);
  const order = [0, 1, 2, 3].map((k) => (first + k) % 4);
  const view = viewAsRectangle(quad, lensGuess(focalPrior, photo.widthPx, photo.heightPx, 1), reference, shapeSd(quad));
  const longSide = view ? (((view.longSide + first) % 2) as 0 | 1) : longerSide(quad, first);
  return {
    cornersPx: order.map((k) => [quad[2 * k], quad[2 * k + 1]] as ImagePoint) as unknown as CornersPx,
    sides: order.map((k) => cardSide(refined[k])) as unknown as CardSighting['sides'],
    longSide,
    score,
  };
}

function cardSide({ line, fit, extraSdPx = 0 }: RefinedSide): CardSide {
  const independent = Math.max(1, INDEPENDENT_SAMPLES * fit.seen);
  return {
    edgePointsPx: fit.samples.map(
      ([t, o]): ImagePoint => [
        line.ax + t * (line.bx - line.ax) + o * line.outX,
        line.ay + t * (line.by - line.ay) + o * line.outY,
      ],
    ),
    sdPx: Math.hypot(POSITION_FLOOR_PX, fit.scatterPx / Math.sqrt(independent), extraSdPx),
  };
}

function longerSide(quad: Quad, first: number): 0 | 1 {
  const length = (k: number): number =>
    Math.hypot(quad[(2 * k + 2) % 8] - quad[2 * k], quad[(2 * k + 3) % 8] - quad[2 * k + 1]);
  return ((length(0) + length(2) > length(1) + length(3) ? 0 : 1) + first) % 2 === 0 ? 0 : 1;
}

/** Index of the corner nearest the photo's top left. */
export function topLeft(quad: Quad): number {
  let first = 0;
  for (let k = 1; k < 4; k++) {
    if (quad[2 * k] + quad[2 * k + 1] < quad[2 * first] + quad[2 * first + 1]) first = k;
  }
  return first;
}

/** The same four corners clockwise as seen, whatever order they were given in. */
export function clockwise(corners: readonly ImagePoint[]): Quad {
  const cx = corners.reduce((sum, [x]) => sum + x, 0) / 4;
  const cy = corners.reduce((sum, [, y]) => sum + y, 0) / 4;
  const sorted = [...corners].sort((p, q) => Math.atan2(p[1] - cy, p[0] - cx) - Math.atan2(q[1] - cy, q[0] - cx));
  return Float64Array.from(sorted.flat());
}
