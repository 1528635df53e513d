import type { Segment } from './line-segments.ts';
import { doubleArea, isConvex, type LensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';

/** Two segments meeting in a corner: which ends, and where. */
interface Corner {
  readonly segment: number;
  readonly end: 0 | 1;
  readonly x: number;
  readonly y: number;
  /** How far the meeting point is from both ends, px: small is a clean corner. */
  readonly distance: number;
}

const MIN_SINE = 0.34;
const CORNERS_PER_END = 9;
const MIN_SIDE_PX = 22;
/** Loose: rough corners, lens distortion and a wrong focal length all go into it. */
const ROUGH_SHAPE_SD = 0.05;
const MAX_ROUGH_COST = 50;
/** cos 72°: 60° is asked for, rough corners may say more. */
const MIN_COS_TILT = 0.3;
const MAX_OUTSIDE_PX = 4;
/** A corner this far beyond the frame is cut off. */
const CUT_PX = 6;
/** Share of an arm that must be seen: of a whole card, and of one that the frame cuts. */
const MIN_COVER = 0.5;
const MIN_CUT_COVER = 0.15;

/**
 * Quads that straight pieces of edge suggest: rings of four, chains of three closed by their free ends or by the
 * reference's proportions, and pairs of opposite sides. Corners clockwise as seen, working image.
 */
export function quadCandidates(
  segments: readonly Segment[],
  widthPx: number,
  heightPx: number,
  lens: LensGuess,
  reference: FlatReference,
): Quad[] {
  const accepted: Quad[] = [];
  const offer = (q: Quad): void => {
    if (isPlausible(q, widthPx, heightPx, lens, reference)) accepted.push(q);
  };
  const corners = cornerGraph(segments);
  for (let base = 0; base < segments.length; base++) {
    for (const a of corners[2 * base]) {
      for (const b of corners[2 * base + 1]) {
        if (a.segment !== b.segment) offerChain(segments, corners, base, a, b, lens, reference, offer);
      }
    }
  }
  offerOppositePairs(segments, offer);
  return accepted;
}

/**
 * Quads of which one side lies within the picture and the two beside it run out of it: a card cut off by the frame.
 * The first two corners are the ones within.
 */
export function cutOffCandidates(
  segments: readonly Segment[],
  widthPx: number,
  heightPx: number,
  lens: LensGuess,
  reference: FlatReference,
): Quad[] {
  const accepted: Quad[] = [];
  const corners = cornerGraph(segments);
  const isOut = (x: number, y: number): boolean =>
    x < -CUT_PX || y < -CUT_PX || x > widthPx + CUT_PX || y > heightPx + CUT_PX;
  const offer = (q: Quad): void => {
    if (isOut(q[0], q[1]) || isOut(q[2], q[3]) || !(isOut(q[4], q[5]) || isOut(q[6], q[7]))) return;
    accepted.push(q);
  };
  for (let base = 0; base < segments.length; base++) {
    for (const a of corners[2 * base]) {
      for (const b of corners[2 * base + 1]) {
        if (a.segment === b.segment || Math.hypot(b.x - a.x, b.y - a.y) < MIN_SIDE_PX) continue;
        const farA = farEnd(segments[a.segment], a.end);
        const farB = farEnd(segments[b.segment], b.end);
        offerPredicted(a, b, farA, farB, lens, reference, offer, MIN_CUT_COVER);
      }
    }
  }
  return accepted;
}

/** For each end of each segment (index 2 · segment + end) the corners it makes with others, cleanest first. */
function cornerGraph(segments: readonly Segment[]): Corner[][] {
  const corners: Corner[][] = segments.flatMap(() => [[], []]);
  for (let i = 0; i < segments.length; i++) {
    for (let j = i + 1; j < segments.length; j++) {
      const s = segments[i];
      const t = segments[j];
      const sine = s.ux * t.uy - s.uy * t.ux;
      if (Math.abs(sine) < MIN_SINE) continue;
      const dx = t.x0 - s.x0;
      const dy = t.y0 - s.y0;
      const alongS = (dx * t.uy - dy * t.ux) / sine;
      const alongT = (dx * s.uy - dy * s.ux) / sine;
      const endS = alongS > s.length / 2 ? 1 : 0;
      const endT = alongT > t.length / 2 ? 1 : 0;
      const beyondS = endS === 1 ? alongS - s.length : -alongS;
      const beyondT = endT === 1 ? alongT - t.length : -alongT;
      if (beyondS > Math.max(14, 0.3 * s.length) || beyondT > Math.max(14, 0.3 * t.length)) continue;
      // one of the two may run on past the corner: a card side often continues in something else
      const overS = -beyondS;
      const overT = -beyondT;
      const tight = (over: number, length: number): boolean => over <= Math.max(5, 0.12 * length);
      const loose = (over: number, length: number): boolean => over <= Math.max(5, 0.4 * length);
      if (!loose(overS, s.length) || !loose(overT, t.length)) continue;
      if (!tight(overS, s.length) && !tight(overT, t.length)) continue;
      const x = s.x0 + alongS * s.ux;
      const y = s.y0 + alongS * s.uy;
      const distance = Math.abs(beyondS) + Math.abs(beyondT);
      corners[2 * i + endS].push({ segment: j, end: endT, x, y, distance });
      corners[2 * j + endT].push({ segment: i, end: endS, x, y, distance });
    }
  }
  for (const list of corners) {
    list.sort((a, b) => tidiness(a, segments) - tidiness(b, segments));
    if (list.length > CORNERS_PER_END) list.length = CORNERS_PER_END;
  }
  return corners;
}

/** Small for clean corners with pieces of some length; a grid's endless lines get no more credit than a card's side. */
function tidiness(corner: Corner, segments: readonly Segment[]): number {
  return corner.distance - 0.15 * Math.min(segments[corner.segment].length, 80);
}

/** Base side from corner a to corner b, arms leading away from both. */
function offerChain(
  segments: readonly Segment[],
  corners: readonly Corner[][],
  base: number,
  a: Corner,
  b: Corner,
  lens: LensGuess,
  reference: FlatReference,
  offer: (q: Quad) => void,
): void {
  if (Math.hypot(b.x - a.x, b.y - a.y) < MIN_SIDE_PX) return;
  const farA = farEnd(segments[a.segment], a.end);
  const farB = farEnd(segments[b.segment], b.end);
  const s = segments[base];
  const sideA = (farA[0] - s.x0) * s.uy - (farA[1] - s.y0) * s.ux;
  const sideB = (farB[0] - s.x0) * s.uy - (farB[1] - s.y0) * s.ux;
  if (sideA * sideB <= 0 || Math.min(Math.abs(sideA), Math.abs(sideB)) < 6) return;
  for (const c of corners[2 * a.segment + (1 - a.end)]) {
    if (c.segment === base || c.segment === b.segment) continue;
    for (const d of corners[2 * b.segment + (1 - b.end)]) {
      if (d.segment !== c.segment || d.end === c.end) continue;
      // each ring is met from all four sides: keep it once
      if (base > a.segment || base > b.segment || base > c.segment) continue;
      offer(Float64Array.of(a.x, a.y, b.x, b.y, d.x, d.y, c.x, c.y));
    }
  }
  offer(Float64Array.of(a.x, a.y, b.x, b.y, farB[0], farB[1], farA[0], farA[1]));
  offerPredicted(a, b, farA, farB, lens, reference, offer);
}

function farEnd(s: Segment, cornerEnd: 0 | 1): [number, number] {
  return cornerEnd === 0 ? [s.x1, s.y1] : [s.x0, s.y0];
}

/**
 * The fourth side predicted from the other three: the arms' directions meet in a vanishing point, which with a focal
 * length fixes the plane; the base gives the scale, the reference the far corners.
 */
function offerPredicted(
  a: Corner,
  b: Corner,
  farA: readonly [number, number],
  farB: readonly [number, number],
  lens: LensGuess,
  reference: FlatReference,
  offer: (q: Quad) => void,
  minCover = MIN_COVER,
): void {
  const proportion = reference.widthMm / reference.heightMm;
  const seenA = Math.hypot(farA[0] - a.x, farA[1] - a.y);
  const seenB = Math.hypot(farB[0] - b.x, farB[1] - b.y);
  const step = lens.focalsPx.length > 1 ? 5 : 1;
  for (let k = 0; k < lens.focalsPx.length; k += step) {
    for (const ratio of [proportion, 1 / proportion]) {
      const far = farCorners(a, b, farA, farB, lens, lens.focalsPx[k], ratio);
      if (!far) continue;
      const [cx, cy, dx, dy] = far;
      const coverA = seenA / Math.hypot(dx - a.x, dy - a.y);
      const coverB = seenB / Math.hypot(cx - b.x, cy - b.y);
      if (Math.max(coverA, coverB) < minCover || Math.max(coverA, coverB) > 1.12) continue;
      offer(Float64Array.of(a.x, a.y, b.x, b.y, cx, cy, dx, dy));
    }
  }
}

/** @param ratio  length of the arms over length of the base, in space */
function farCorners(
  a: Corner,
  b: Corner,
  farA: readonly [number, number],
  farB: readonly [number, number],
  lens: LensGuess,
  f: number,
  ratio: number,
): [number, number, number, number] | null {
  const ray = (x: number, y: number): [number, number, number] => [
    (x - lens.centreXPx) / f,
    (y - lens.centreYPx) / f,
    1,
  ];
  const p = ray(a.x, a.y);
  const q = ray(b.x, b.y);
  const planeA = cross(p, ray(farA[0], farA[1]));
  const planeB = cross(q, ray(farB[0], farB[1]));
  const planeBase = cross(p, q);
  let arm = cross(planeA, planeB);
  const armLength = Math.hypot(arm[0], arm[1], arm[2]);
  if (armLength < 1e-12) return null;
  arm = [arm[0] / armLength, arm[1] / armLength, arm[2] / armLength];
  const side = cross(planeBase, arm);
  // p + base · side ∥ q with p at depth 1: solve for the base's length along `side` and the depth of q
  const sideAcross = cross(q, side);
  const pAcross = cross(q, p);
  const norm2 = dot(sideAcross, sideAcross);
  if (norm2 < 1e-18) return null;
  const base = -dot(pAcross, sideAcross) / norm2;
  const corner = [p[0] + base * side[0], p[1] + base * side[1], p[2] + base * side[2]];
  const reach = ratio * Math.abs(base) * Math.hypot(side[0], side[1], side[2]);
  const towards = (farA[0] - a.x) * (arm[0] - p[0] * arm[2]) + (farA[1] - a.y) * (arm[1] - p[1] * arm[2]) > 0 ? 1 : -1;
  const move = [towards * reach * arm[0], towards * reach * arm[1], towards * reach * arm[2]];
  const cz = corner[2] + move[2];
  const dz = p[2] + move[2];
  if (cz < 0.1 || dz < 0.1) return null;
  return [
    lens.centreXPx + (f * (corner[0] + move[0])) / cz,
    lens.centreYPx + (f * (corner[1] + move[1])) / cz,
    lens.centreXPx + (f * (p[0] + move[0])) / dz,
    lens.centreYPx + (f * (p[1] + move[1])) / dz,
  ];
}

/** Two nearly parallel segments joined end to end, lengthened by what the rounded corners take. */
function offerOppositePairs(segments: readonly Segment[], offer: (q: Quad) => void): void {
  for (let i = 0; i < segments.length; i++) {
    const s = segments[i];
    if (s.length < MIN_SIDE_PX) continue;
    for (let j = i + 1; j < segments.length; j++) {
      const t = segments[j];
      const cosine = s.ux * t.ux + s.uy * t.uy;
      if (Math.abs(cosine) < 0.9 || t.length < 0.5 * s.length || s.length < 0.5 * t.length) continue;
      const [tx0, ty0, tx1, ty1] = cosine > 0 ? [t.x0, t.y0, t.x1, t.y1] : [t.x1, t.y1, t.x0, t.y0];
      const gap =
        0.5 * Math.abs((tx0 - s.x0) * s.uy - (ty0 - s.y0) * s.ux) +
        0.5 * Math.abs((tx1 - s.x0) * s.uy - (ty1 - s.y0) * s.ux);
      if (gap < 0.2 * s.length || gap > 2.2 * s.length) continue;
      const e = 0.03;
      const sx = e * (s.x1 - s.x0);
      const sy = e * (s.y1 - s.y0);
      const tx = e * (tx1 - tx0);
      const ty = e * (ty1 - ty0);
      offer(Float64Array.of(s.x0 - sx, s.y0 - sy, s.x1 + sx, s.y1 + sy, tx1 + tx, ty1 + ty, tx0 - tx, ty0 - ty));
    }
  }
}

/** Turns the quad clockwise in place and checks its shape. */
function isPlausible(q: Quad, widthPx: number, heightPx: number, lens: LensGuess, reference: FlatReference): boolean {
  for (let k = 0; k < 8; k += 2) {
    if (q[k] < -MAX_OUTSIDE_PX || q[k] > widthPx - 1 + MAX_OUTSIDE_PX) return false;
    if (q[k + 1] < -MAX_OUTSIDE_PX || q[k + 1] > heightPx - 1 + MAX_OUTSIDE_PX) return false;
  }
  if (doubleArea(q) < 0) {
    const [x, y] = [q[2], q[3]];
    q[2] = q[6];
    q[3] = q[7];
    q[6] = x;
    q[7] = y;
  }
  for (let k = 0; k < 8; k += 2) {
    if (Math.hypot(q[(k + 2) % 8] - q[k], q[(k + 3) % 8] - q[k + 1]) < MIN_SIDE_PX / 2) return false;
  }
  if (!isConvex(q)) return false;
  const view = viewAsRectangle(q, lens, reference, ROUGH_SHAPE_SD);
  return view !== null && view.cost < MAX_ROUGH_COST && view.cosTilt > MIN_COS_TILT;
}

function cross(a: readonly number[], b: readonly number[]): [number, number, number] {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
