import type { FlatReference } from '../reference.ts';
import { isConvex, type LensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import { DISPLAY_LIGHT, type Pixels } from './sample-photo.ts';
import { type SideProfiles, STEP_PX, sideLine, sideProfiles } from './side-profiles.ts';
import { quadFromLines } from './side-support.ts';

/** How far from the expected side a line is looked for, as a share of the card's width. */
const REACH = 0.045;
const MIN_REACH_PX = 4;
const MAX_REACH_PX = 16;
const ROWS = 20;
const CORNER_SHARE = 0.07;
/** Lines followed up along each side: the border, a stripe beside it, a shadow, the far border of the edge face. */
const LINES_PER_SIDE = 4;
/** Lines closer than this, summed over both ends, are one, px. */
const SAME_LINE_PX = 3;
/** A row's change counts in full from this share of the side's typical peak. */
const CLIP_AT_TYPICAL = 1;
const SHAPE_SD = 0.03;
/** What a unit of squared misfit of the proportions costs against the support of one side, 0..1. */
const SHAPE_WEIGHT = 0.012;

/** A line across a side's profiles: offsets at both ends, px, and how much of the side supports it, 0..1. */
interface LikelyLine {
  readonly a: number;
  readonly b: number;
  readonly support: number;
}

/**
 * Quads whose sides run along likely lines near the expected ones, best first: what a guess that is good to a few
 * hundredths of the card's width says together with the edges beside it and the card's proportions.
 */
export function expectedQuads(
  picture: Pixels,
  expected: Quad,
  lens: LensGuess,
  reference: FlatReference,
  count: number,
): Quad[] {
  const sides = [0, 2, 4, 6].map((k) =>
    sideLine(expected[k], expected[k + 1], expected[(k + 2) % 8], expected[(k + 3) % 8]),
  );
  const widthPx = Math.max(sides[0].lengthPx + sides[2].lengthPx, sides[1].lengthPx + sides[3].lengthPx) / 2;
  const reachPx = Math.min(Math.max(REACH * widthPx, MIN_REACH_PX), MAX_REACH_PX);
  const lines = sides.map((side) => {
    const likely = likelyLines(sideProfiles(picture, DISPLAY_LIGHT, side, ROWS, reachPx, CORNER_SHARE));
    return likely.map(({ a, b, support }) => {
      const [x0, y0] = [side.ax + a * side.outX, side.ay + a * side.outY];
      const [x1, y1] = [side.bx + b * side.outX, side.by + b * side.outY];
      return { support, line: [y0 - y1, x1 - x0, x1 * y0 - x0 * y1] };
    });
  });
  const scored: { quad: Quad; support: number; score: number }[] = [];
  for (const p of lines[0])
    for (const q of lines[1])
      for (const r of lines[2])
        for (const s of lines[3]) {
          const quad = quadFromLines([...p.line, ...q.line, ...r.line, ...s.line]);
          const view = quad && isConvex(quad) ? viewAsRectangle(quad, lens, reference, SHAPE_SD) : null;
          if (!quad || !view) continue;
          const support = p.support + q.support + r.support + s.support;
          scored.push({ quad, support, score: support - SHAPE_WEIGHT * Math.min(view.cost, 100) });
        }
  const best = scored.sort((a, b) => b.score - a.score).slice(0, count);
  // what is seen best there whatever its proportions: it may be something else than the card
  const [seenBest] = scored.sort((a, b) => b.support - a.support);
  return [...(seenBest && !best.includes(seenBest) ? [seenBest] : []), ...best].map(({ quad }) => quad);
}

/** Local maxima over all lines of the grid, strongest first. */
function likelyLines(profiles: SideProfiles): LikelyLine[] {
  const { rows, columns, centre, along, change } = profiles;
  const clip = CLIP_AT_TYPICAL * typicalPeak(profiles);
  const reach = centre - 2;
  const found: LikelyLine[] = [];
  for (let a = -reach; a <= reach; a++) {
    for (let b = -reach; b <= reach; b++) {
      let sum = 0;
      for (let r = 0; r < rows; r++)
        sum += Math.min(change[r * columns + centre + Math.round(a + along[r] * (b - a))], clip);
      const stray = (a * a + b * b) / (2 * centre * centre);
      found.push({ a: a * STEP_PX, b: b * STEP_PX, support: (sum / (rows * clip)) * (1 - 0.3 * stray) });
    }
  }
  found.sort((p, q) => q.support - p.support);
  const kept: LikelyLine[] = [];
  for (const line of found) {
    if (kept.some(({ a, b }) => Math.abs(a - line.a) + Math.abs(b - line.b) < SAME_LINE_PX)) continue;
    kept.push(line);
    if (kept.length === LINES_PER_SIDE) break;
  }
  return kept;
}

/** Median over the rows of each row's strongest change. */
function typicalPeak({ rows, columns, change }: SideProfiles): number {
  const peaks = Float32Array.from({ length: rows }, (_, r) =>
    change.subarray(r * columns + 1, (r + 1) * columns - 1).reduce((a, b) => Math.max(a, b), 0),
  ).sort();
  return peaks[rows >> 1] + 1e-6;
}
