import { isInside } from '../flat-piece/coarse-picture.ts';
import { median } from '../flat-piece/fit-round-edge.ts';
import { type Ellipse, ellipseThrough, normalOn, pointOn } from '../geometry/ellipse.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import type { Cv } from '../opencv/cv.ts';
import { MatScope } from '../opencv/mat-scope.ts';
import type { Photo } from '../picture/photo.ts';
import { photoFromWorking, type WorkingImage, workingImage } from '../picture/working-image.ts';
import { LINEAR_LIGHT, type Pixels, samplePhoto } from './sample-photo.ts';

/** The rim of a round reference as found. */
export interface FoundRim {
  /** Points on its outermost edge, all round, in order. */
  readonly rimPx: readonly ImagePoint[];
  /** Standard uncertainty of each. */
  readonly pointSdPx: number;
  /** Through the points. */
  readonly ellipse: Ellipse;
}

/** Smallest rim that tells a scale, px across in the reduced picture; flattest view that is looked for. */
const LEAST_LONG_PX = 26;
const LEAST_RATIO = 0.45;
/** Steps of the reduced picture that count: Scharr sums to 32 grey levels of 255 for each level across two pixels. */
const CANNY = { low: 80, high: 200 } as const;
const LEAST_STEP_LEVELS = 10;
const SHORTEST_ARC_PX = 24;
/** A rim's edge may run on into the edges of other things: pieces of it are tried too. */
const PIECE_PX = 80;
const MOST_ARC_SCATTER_PX = 1.5;
const ANGLES = 120;
const REACH_PX = [5, 3] as const;
/** Share of the rim that has to be seen as an edge where the ellipse runs; coins and discs are round, crochet is not. */
const LEAST_SEEN = 0.72;
/** Root mean square of what is left between its edges and the ellipse, px of the reduced picture. */
const MOST_SCATTER_PX = 0.6;
const OUTLIER = 3;
/** What is left of an edge's position when it is well seen, px. */
const POSITION_FLOOR_PX = 0.15;

/**
 * Finds a coin or disc by its rim: arcs of edges, each carried on to a whole ellipse that has edges all round, the
 * outermost of those about one middle, the sharpest of those that are left; then to a fraction of a pixel.
 * @param notAt  a point inside something else that is round: the work
 * @returns null when nothing is round enough
 */
export function findRound(cv: Cv, photo: Photo, notAt: ImagePoint | null): FoundRim | null {
  return findRounds(cv, photo, LEAST_RATIO).find((rim) => !(notAt && isInside(rim.rimPx, notAt))) ?? null;
}

/**
 * All that is round enough, sharpest first.
 * @param leastRatio  of the ellipse's axes: the flattest view that is looked for
 */
export function findRounds(cv: Cv, photo: Photo, leastRatio: number): readonly FoundRim[] {
  const image = workingImage(cv, photo);
  const small: Pixels = { widthPx: image.widthPx, heightPx: image.heightPx, rgba: image.rgba };
  const seen = edgeArcs(cv, image)
    .map((arc) => ({ arc, ellipse: ellipseThrough(arc) }))
    .flatMap(({ arc, ellipse }) => (ellipse && isArcOf(ellipse, arc) ? [ellipse] : []))
    .map((ellipse) => settled(small, ellipse, leastRatio))
    .filter((rim) => rim !== null);
  const outer = seen.filter((rim) => !seen.some((other) => isAround(other.ellipse, rim.ellipse)));
  return outer
    .sort((a, b) => a.scatterPx / a.seen - b.scatterPx / b.seen)
    .map(({ ellipse }) => sharpRim(photo, inPhoto(image, ellipse)))
    .filter((rim) => rim !== null);
}

/** Chains of edge pixels long enough to tell a curve. */
function edgeArcs(cv: Cv, image: WorkingImage): ImagePoint[][] {
  using mats = new MatScope();
  const grey = mats.own(new cv.Mat(image.heightPx, image.widthPx, cv.CV_8UC1));
  grey.data.set(image.planes[0]);
  const [blurred, dx, dy, edges, hierarchy] = [0, 1, 2, 3, 4].map(() => mats.own(new cv.Mat()));
  cv.GaussianBlur(grey, blurred, new cv.Size(0, 0), 1);
  cv.Scharr(blurred, dx, cv.CV_16S, 1, 0);
  cv.Scharr(blurred, dy, cv.CV_16S, 0, 1);
  cv.Canny1(dx, dy, edges, CANNY.low, CANNY.high, true);
  const contours = mats.own(new cv.MatVector());
  cv.findContours(edges, contours, hierarchy, cv.RETR_LIST, cv.CHAIN_APPROX_NONE);
  const arcs: ImagePoint[][] = [];
  for (let i = 0; i < contours.size(); i++) {
    const contour = mats.own(contours.get(i));
    if (contour.rows < SHORTEST_ARC_PX) continue;
    const xy = contour.data32S;
    const chain = Array.from({ length: contour.rows }, (_, k): ImagePoint => [xy[2 * k], xy[2 * k + 1]]);
    arcs.push(chain);
    for (let from = 0; from + PIECE_PX <= chain.length; from += PIECE_PX / 2)
      arcs.push(chain.slice(from, from + PIECE_PX));
  }
  return arcs;
}

/** Whether an ellipse runs along the points it was laid through, and not just between them. */
function isArcOf({ middle, long, short, turnRad }: Ellipse, arc: readonly ImagePoint[]): boolean {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  const squares = arc.reduce((sum, [x, y]) => {
    const [dx, dy] = [x - middle[0], y - middle[1]];
    return sum + (Math.hypot((c * dx + s * dy) / long, (c * dy - s * dx) / short) - 1) ** 2;
  }, 0);
  return short * Math.sqrt(squares / arc.length) < MOST_ARC_SCATTER_PX;
}

interface Rim {
  readonly ellipse: Ellipse;
  /** Share of its directions in which an edge lies on it. */
  readonly seen: number;
  /** Of the edges about it, px. */
  readonly scatterPx: number;
}

/** Carries an ellipse through an arc on to the edges all round it; null when there are too few. */
function settled(pixels: Pixels, first: Ellipse, leastRatio: number): Rim | null {
  let rim: Rim | null = null;
  let ellipse = first;
  for (const reach of REACH_PX) {
    if (!isPlausible(ellipse, pixels, leastRatio)) return null;
    const found = edgesNear(pixels, ellipse, reach, LEAST_STEP_LEVELS);
    const next = found.length > ANGLES / 2 ? ellipseThrough(found.map(({ point }) => point)) : null;
    if (!next) return null;
    const offsets = edgesNear(pixels, next, 2, LEAST_STEP_LEVELS).map(({ offset }) => offset);
    const scatterPx = Math.sqrt(offsets.reduce((sum, r) => sum + r * r, 0) / Math.max(offsets.length, 1));
    ellipse = next;
    rim = { ellipse, seen: offsets.length / ANGLES, scatterPx };
  }
  return rim && rim.seen >= LEAST_SEEN && rim.scatterPx < MOST_SCATTER_PX ? rim : null;
}

function isPlausible(
  { middle: [x, y], long, short }: Ellipse,
  { widthPx, heightPx }: Pixels,
  leastRatio: number,
): boolean {
  const fits = x > 0 && y > 0 && x < widthPx && y < heightPx && 2 * long < Math.min(widthPx, heightPx);
  return fits && 2 * long >= LEAST_LONG_PX && short / long >= leastRatio;
}

/** About the same middle, and larger: a coin's rim around its inner ring. */
function isAround(outer: Ellipse, inner: Ellipse): boolean {
  const apart = Math.hypot(outer.middle[0] - inner.middle[0], outer.middle[1] - inner.middle[1]);
  return outer.long > 1.02 * inner.long && apart + 0.5 * inner.short < outer.short && outer.long < 9 * inner.long;
}

interface EdgePoint {
  readonly point: ImagePoint;
  /** From the ellipse outwards, px. */
  readonly offset: number;
}

/** In every direction the strongest step across the ellipse within reach, where it is a step at all. */
function edgesNear(pixels: Pixels, ellipse: Ellipse, reach: number, leastStep: number): EdgePoint[] {
  const perPx = 2;
  const count = 2 * perPx * reach + 1;
  const light = new Float32Array(3 * (count + 2 * perPx));
  const found: EdgePoint[] = [];
  for (let k = 0; k < ANGLES; k++) {
    const turn = (2 * Math.PI * k) / ANGLES;
    const [x, y] = pointOn(ellipse, turn);
    const [nx, ny] = normalOn(ellipse, turn);
    const at = (i: number) => (i - perPx) / perPx - reach;
    for (let i = 0; i < count + 2 * perPx; i++) {
      samplePhoto(pixels, LINEAR_LIGHT, x + at(i) * nx, y + at(i) * ny, light, 3 * i);
    }
    const steps = Float64Array.from({ length: count }, (_, i) => {
      const [a, b] = [3 * i, 3 * (i + 2 * perPx)];
      return Math.hypot(light[b] - light[a], light[b + 1] - light[a + 1], light[b + 2] - light[a + 2]);
    });
    const best = steps.indexOf(Math.max(...steps));
    if (steps[best] < leastStep || best === 0 || best === count - 1) continue;
    const [before, after] = [steps[best - 1], steps[best + 1]];
    const shift = (0.5 * (before - after)) / Math.min(before - 2 * steps[best] + after, -1e-9);
    const offset = at(best + perPx + shift);
    found.push({ point: [x + offset * nx, y + offset * ny], offset });
  }
  return found;
}

function inPhoto(image: WorkingImage, { middle, long, short, turnRad }: Ellipse): Ellipse {
  const scale = image.photoPerWorkingPx[0];
  return { middle: photoFromWorking(image, ...middle), long: long * scale, short: short * scale, turnRad };
}

/** The rim in the full-size photo, what does not belong left out. */
function sharpRim(photo: Photo, rough: Ellipse): FoundRim | null {
  const scale = Math.max(photo.widthPx, photo.heightPx) / 1000;
  let points = edgesNear(photo, rough, Math.max(3, Math.round(3 * scale)), LEAST_STEP_LEVELS);
  const ellipse = points.length > ANGLES / 2 ? ellipseThrough(points.map(({ point }) => point)) : null;
  if (!ellipse) return null;
  points = edgesNear(photo, ellipse, Math.max(3, Math.round(2 * scale)), LEAST_STEP_LEVELS);
  const sd = 1.4826 * median(points.map(({ offset }) => Math.abs(offset)));
  const kept = points.filter(({ offset }) => Math.abs(offset) <= OUTLIER * sd + POSITION_FLOOR_PX);
  if (kept.length < LEAST_SEEN * ANGLES) return null;
  const rimPx = kept.map(({ point }) => point);
  const settledOn = ellipseThrough(rimPx);
  return settledOn && { rimPx, pointSdPx: Math.hypot(POSITION_FLOOR_PX, sd), ellipse: settledOn };
}
