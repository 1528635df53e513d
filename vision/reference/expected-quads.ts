import { median } from './fit-side.ts';
import { isConvex, type LensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import { DISPLAY_LIGHT, type Pixels } from './sample-photo.ts';
import { type SideLine, type SideProfiles, STEP_PX, sideLine, sideProfiles } from './side-profiles.ts';
import { quadFromLines } from './side-support.ts';

/** How far from the expected side a line is looked for, as a share of the card's width. */
const REACH = 0.07;
const MIN_REACH_PX = 4;
const MAX_REACH_PX = 16;
/** A side is looked at in pieces, each the mean of several rows: printed art may change the sign of the step between them. */
const PIECES = 6;
const ROWS_PER_PIECE = 4;
const CORNER_SHARE = 0.07;
/** Lines followed up along each side: the border, a stripe beside it, a shadow, the far border of the edge face. */
const LINES_PER_SIDE = 6;
/** Lines closer than this, summed over both ends, are one, px. */
const SAME_LINE_PX = 3;
/** A step this many times as high as the noise counts in full, a stronger one hardly more, a fainter one by its logarithm. */
const CLEAR_STEP = 30;
const BEYOND_CLEAR = 0.05;
/** Grey levels of a piece's noise below which the picture's rounding takes over. */
const MIN_NOISE = 0.1;
const STRAY_COST = 0.3;
const SHAPE_SD = 0.03;
/** What a unit of squared misfit of the proportions costs against the support of one side, 0..1. */
const SHAPE_WEIGHT = 0.012;
/** Quads closer than this at every corner are one, px. */
const SAME_QUAD_PX = 2;
/** A hidden corner is guessed this far off at most, and guesses closer than this are one; shares of the card's width. */
const MAX_CORNER_OFF = 0.35;
const SAME_GUESS = 0.03;
/** Logarithm of the depth from one corner to the next over the angle between them: a tilt of 70°. Tried in this many steps. */
const MOST_DEPTH_PER_ANGLE = 3;
const DEPTH_STEPS = 48;

/** A line across a side's profiles and how much of the side supports it, 0..1. */
interface LikelyLine {
  readonly line: readonly [number, number, number];
  readonly support: number;
}

interface ScoredQuad {
  readonly quad: Quad;
  readonly support: number;
  readonly score: number;
}

/**
 * Quads whose sides run along likely lines near the expected ones, best first: what a guess that is good to a few
 * hundredths of the card's width says together with the edges beside it and the card's proportions. Steps are summed
 * along the whole side, so that one far below the grain's height shows.
 */
export function expectedQuads(
  picture: Pixels,
  guesses: readonly Quad[],
  lens: LensGuess,
  reference: FlatReference,
  count: number,
): Quad[] {
  const scored = guesses.flatMap((guess) => quadsNear(picture, guess, lens, reference));
  scored.sort((a, b) => b.score - a.score);
  // what is seen best there whatever its proportions: it may be something else than the card
  const seenBest = scored.reduce<ScoredQuad | null>((a, b) => (a && a.support >= b.support ? a : b), null);
  const kept: Quad[] = seenBest ? [seenBest.quad] : [];
  for (const { quad } of scored) {
    if (kept.length > count) break;
    if (kept.every((other) => largestMove(other, quad) > SAME_QUAD_PX)) kept.push(quad);
  }
  return kept;
}

/**
 * Mostly one corner of four is off, for example because a finger lies on it: for each corner the quads that the other three
 * and the reference's size leave for it.
 */
export function withOneCornerReplaced(expected: Quad, lens: LensGuess, reference: FlatReference): Quad[] {
  const guesses: Quad[] = [];
  const widthPx = Math.max(...[0, 1, 2, 3].map((k) => Math.hypot(...fromTo(expected, k, (k + 1) % 4))));
  const proportion = reference.widthMm / reference.heightMm;
  const step = lens.focalsPx.length > 1 ? 5 : 1;
  for (let k = 0; k < 4; k++) {
    for (let f = 0; f < lens.focalsPx.length; f += step) {
      for (const ratio of [proportion, 1 / proportion]) {
        for (const corner of fourthCorners(expected, k, lens, lens.focalsPx[f], ratio)) {
          const quad = expected.slice();
          quad.set(corner, 2 * k);
          const far =
            Math.hypot(corner[0] - expected[2 * k], corner[1] - expected[2 * k + 1]) > MAX_CORNER_OFF * widthPx;
          if (far || !isConvex(quad)) continue;
          if (guesses.every((other) => largestMove(other, quad) > SAME_GUESS * widthPx)) guesses.push(quad);
        }
      }
    }
  }
  return guesses;
}

function fromTo(q: Quad, a: number, b: number): [number, number] {
  return [q[2 * b] - q[2 * a], q[2 * b + 1] - q[2 * a + 1]];
}

/**
 * Where corner k of a rectangle is seen when the other three are known: with the opposite corner at depth 1, the depths of
 * its neighbours follow from the right angle between the two sides there and from their proportion.
 * @param ratio  length of the side from k + 2 to k + 1 over that from k + 2 to k + 3, in space
 */
function fourthCorners(q: Quad, k: number, lens: LensGuess, f: number, ratio: number): [number, number][] {
  const ray = (j: number): [number, number] => [
    (q[2 * (j % 4)] - lens.centreXPx) / f,
    (q[2 * (j % 4) + 1] - lens.centreYPx) / f,
  ];
  const [ax, ay] = ray(k + 1);
  const [bx, by] = ray(k + 2);
  const [cx, cy] = ray(k + 3);
  const bb = bx * bx + by * by + 1;
  const ab = ax * bx + ay * by + 1;
  const bc = bx * cx + by * cy + 1;
  const ac = ax * cx + ay * cy + 1;
  const most = MOST_DEPTH_PER_ANGLE * Math.max(Math.hypot(ax - bx, ay - by), Math.hypot(cx - bx, cy - by));
  const depthOfC = (a: number): number => (a * ab - bb) / (a * ac - bc);
  /** Zero where the proportion is right; NaN where no right angle is possible. */
  const misfit = (a: number): number => {
    const c = depthOfC(a);
    if (!(Math.abs(Math.log(c)) < most)) return Number.NaN;
    const sideA = a * a * (ax * ax + ay * ay + 1) - 2 * a * ab + bb;
    const sideC = c * c * (cx * cx + cy * cy + 1) - 2 * c * bc + bb;
    return 0.5 * Math.log(sideA / sideC) - Math.log(ratio);
  };
  const corners: [number, number][] = [];
  let low = Math.exp(-most);
  let atLow = misfit(low);
  for (let step = 1; step <= DEPTH_STEPS; step++) {
    const high = Math.exp(most * ((2 * step) / DEPTH_STEPS - 1));
    const atHigh = misfit(high);
    if (atLow * atHigh < 0) {
      // a straight line between two steps is good to a fraction of the search's reach
      const a = low + ((high - low) * atLow) / (atLow - atHigh);
      const c = depthOfC(a);
      const z = a + c - 1;
      if (z > 0) {
        const x = lens.centreXPx + (f * (a * ax + c * cx - bx)) / z;
        corners.push([x, lens.centreYPx + (f * (a * ay + c * cy - by)) / z]);
      }
    }
    low = high;
    atLow = atHigh;
  }
  return corners;
}

function quadsNear(picture: Pixels, guess: Quad, lens: LensGuess, reference: FlatReference): ScoredQuad[] {
  const sides = [0, 2, 4, 6].map((k) => sideLine(guess[k], guess[k + 1], guess[(k + 2) % 8], guess[(k + 3) % 8]));
  const widthPx = Math.max(sides[0].lengthPx + sides[2].lengthPx, sides[1].lengthPx + sides[3].lengthPx) / 2;
  const reachPx = Math.min(Math.max(REACH * widthPx, MIN_REACH_PX), MAX_REACH_PX);
  const rows = PIECES * ROWS_PER_PIECE;
  const lines = sides.map((side) =>
    likelyLines(side, sideProfiles(picture, DISPLAY_LIGHT, side, rows, reachPx, CORNER_SHARE)),
  );
  const roughLens = { ...lens, centreSdPx: 0 };
  const scored: ScoredQuad[] = [];
  for (const p of lines[0])
    for (const q of lines[1])
      for (const r of lines[2])
        for (const s of lines[3]) {
          const quad = quadFromLines([...p.line, ...q.line, ...r.line, ...s.line]);
          const view = quad && isConvex(quad) ? viewAsRectangle(quad, roughLens, reference, SHAPE_SD) : null;
          if (!quad || !view) continue;
          const support = p.support + q.support + r.support + s.support;
          scored.push({ quad, support, score: support - SHAPE_WEIGHT * Math.min(view.cost, 100) });
        }
  return scored;
}

/** Local maxima over all lines of the grid, strongest first. */
function likelyLines(side: SideLine, profiles: SideProfiles): LikelyLine[] {
  const reach = profiles.centre - 2;
  const cells = 2 * reach + 1;
  const support = lineSupport(profiles, reach);
  const order = support.map((_, i) => i).filter((i) => isPeak(support, cells, i));
  const kept: (LikelyLine & { readonly a: number; readonly b: number })[] = [];
  for (const i of order.sort((p, q) => support[q] - support[p])) {
    const a = (Math.floor(i / cells) - reach) * STEP_PX;
    const b = ((i % cells) - reach) * STEP_PX;
    if (kept.some((other) => Math.abs(other.a - a) + Math.abs(other.b - b) < SAME_LINE_PX)) continue;
    const [x0, y0] = [side.ax + a * side.outX, side.ay + a * side.outY];
    const [x1, y1] = [side.bx + b * side.outX, side.by + b * side.outY];
    kept.push({ a, b, support: support[i], line: [y0 - y1, x1 - x0, x1 * y0 - x0 * y1] });
    if (kept.length === LINES_PER_SIDE) break;
  }
  return kept;
}

/**
 * About 0..1 for every pair of offsets at the side's two ends: half for a step that keeps its sign, half for one that need
 * not. Logarithms, because beside a card's faint border strong stripes may be printed.
 */
function lineSupport(profiles: SideProfiles, reach: number): number[] {
  const { columns, centre, along } = profiles;
  const steps = stepsAcross(profiles);
  const noise = usualPower(profiles, steps);
  const cells = 2 * reach + 1;
  return Array.from({ length: cells * cells }, (_, i) => {
    const a = Math.floor(i / cells) - reach;
    const b = (i % cells) - reach;
    const whole = [0, 0, 0];
    const piece = [0, 0, 0];
    let inPieces = 0;
    for (let row = 0; row < PIECES * ROWS_PER_PIECE; row++) {
      const at = 3 * (row * columns + centre + Math.round(a + along[row] * (b - a)));
      for (let k = 0; k < 3; k++) piece[k] += steps[at + k];
      if (row % ROWS_PER_PIECE < ROWS_PER_PIECE - 1) continue;
      inPieces += support(piece, noise) / PIECES;
      for (let k = 0; k < 3; k++) {
        whole[k] += piece[k];
        piece[k] = 0;
      }
    }
    const stray = (a * a + b * b) / (2 * reach * reach);
    return 0.5 * (support(whole, PIECES * noise) + inPieces) * (1 - STRAY_COST * stray);
  });
}

function support([red, green, blue]: readonly number[], noise: number): number {
  const share = Math.log(1 + (red * red + green * green + blue * blue) / noise) / Math.log(1 + CLEAR_STEP * CLEAR_STEP);
  return share < 1 ? share : 1 + BEYOND_CLEAR * (share - 1);
}

/** Change of red, green and blue across the side, with its sign. */
function stepsAcross({ rows, columns, light }: SideProfiles): Float32Array {
  const steps = new Float32Array(light.length);
  for (let row = 0; row < rows; row++) {
    for (let i = 3 * (row * columns + 1); i < 3 * ((row + 1) * columns - 1); i++)
      steps[i] = light[i + 3] - light[i - 3];
  }
  return steps;
}

/** Median power of a piece's step over all places across the side: most of them are no edge. */
function usualPower({ columns }: SideProfiles, steps: Float32Array): number {
  const powers: number[] = [];
  for (let piece = 0; piece < PIECES; piece++) {
    for (let column = 1; column < columns - 1; column++) {
      let power = 0;
      for (let k = 0; k < 3; k++) {
        let sum = 0;
        for (let row = piece * ROWS_PER_PIECE; row < (piece + 1) * ROWS_PER_PIECE; row++)
          sum += steps[3 * (row * columns + column) + k];
        power += sum * sum;
      }
      powers.push(power);
    }
  }
  return median(powers) + (MIN_NOISE * ROWS_PER_PIECE) ** 2;
}

function isPeak(values: readonly number[], cells: number, i: number): boolean {
  const column = i % cells;
  for (let row = Math.floor(i / cells) - 1; row <= Math.floor(i / cells) + 1; row++) {
    if (row < 0 || row >= cells) continue;
    for (let c = Math.max(0, column - 1); c <= Math.min(cells - 1, column + 1); c++)
      if (values[row * cells + c] > values[i]) return false;
  }
  return true;
}

function largestMove(a: Quad, b: Quad): number {
  return Math.max(...[0, 2, 4, 6].map((k) => Math.hypot(a[k] - b[k], a[k + 1] - b[k + 1])));
}
