import type { Polyline } from '../geometry/solid-of-revolution.ts';
import { LOG_BASE_EDGE, LOG_HEIGHT, LOG_TOP_EDGE, WALL } from './parameters.ts';

/**
 * The container's outer profile: a wall of straight pieces between knots, whose foot and top run into the end discs
 * through quarter-circle edges. The knots sit at fixed shares of the height, but slide along with the nearest edges of
 * the wall (step of a lid, shoulder), which are free to move up and down.
 * Vertices carry their derivatives, so that whatever touches the surface can be traced back to the parameters.
 */
export interface ProfileCurve extends Polyline {
  readonly layout: KnotLayout;
  /** Height of every knot, mm. */
  readonly knotZMm: Float64Array;
  /** Wall radius at vertex v is (1 − knotShare) · knot[knotIndex] + knotShare · knot[knotIndex + 1], less the edge. */
  readonly knotIndex: Int32Array;
  readonly knotShare: Float64Array;
  /** The same for the two edges (counted with both ends of the wall) that carry the vertex along. */
  readonly edgeIndex: Int32Array;
  readonly edgeShare: Float64Array;
  readonly zByHeight: Float64Array;
  readonly radiusByHeight: Float64Array;
  readonly zByBaseEdge: Float64Array;
  readonly radiusByBaseEdge: Float64Array;
  readonly zByTopEdge: Float64Array;
  readonly radiusByTopEdge: Float64Array;
  readonly zByShift: Float64Array;
  readonly radiusByShift: Float64Array;
}

export interface KnotLayout {
  /** Height of every knot as a share of the container's height, from 0 to 1, before any edge has moved. */
  readonly knotShares: Float64Array;
  /** Where the edges that may move are, likewise; the ends 0 and 1 are not among them. */
  readonly edgeShares: Float64Array;
}

export interface ProfileShape {
  readonly heightMm: number;
  readonly baseEdgeMm: number;
  readonly topEdgeMm: number;
  /** Wall radius at every knot, mm. */
  readonly wallMm: ArrayLike<number>;
  /** How far each edge has moved up, mm. */
  readonly edgeShiftMm: ArrayLike<number>;
}

/**
 * Pieces per quarter circle. A ray touches such a polygon at its corners, and all rays along a rim touch it at about the
 * same angle, so the corners lie a little outside the arc: where rays touch, the polygon is then true on the whole
 * (mean of cos over half a piece) and nowhere off by more than 0.12 % of the edge radius.
 */
const ARC_PIECES = 16;
const ARC_SWELL = 1 + (Math.PI / (4 * ARC_PIECES)) ** 2 / 6;
/** From the end disc to the wall: distance from the end along the axis, and inwards from the wall, in edge radii. */
const ARC = Array.from({ length: ARC_PIECES + 1 }, (_, i) => {
  const swell = i === 0 || i === ARC_PIECES ? 1 : ARC_SWELL;
  const angle = (i / ARC_PIECES) * (Math.PI / 2);
  return { along: 1 - swell * Math.cos(angle), inward: 1 - swell * Math.sin(angle) };
});
/** A base edge larger than this share of the radius would be a round bottom. */
const LARGEST_EDGE_SHARE = 0.5;
const LARGEST_TOP_SHARE = 0.95;
const SMALLEST_RADIUS_MM = 0.05;
const SMALLEST_KNOT_GAP_MM = 0.02;

export function newProfileCurve(layout: KnotLayout): ProfileCurve {
  const capacity = layout.knotShares.length + 2 * (ARC_PIECES + 1);
  const list = () => new Float64Array(capacity);
  return {
    count: 0,
    zMm: list(),
    radiusMm: list(),
    layout,
    knotZMm: new Float64Array(layout.knotShares.length),
    knotIndex: new Int32Array(capacity),
    knotShare: list(),
    edgeIndex: new Int32Array(capacity),
    edgeShare: list(),
    zByHeight: list(),
    radiusByHeight: list(),
    zByBaseEdge: list(),
    radiusByBaseEdge: list(),
    zByTopEdge: list(),
    radiusByTopEdge: list(),
    zByShift: list(),
    radiusByShift: list(),
  };
}

/** Wall radius at height z (mm), edges left out; beyond the ends it goes on straight. */
export function wallRadiusMm(curve: ProfileCurve, shape: ProfileShape, zMm: number): number {
  placeKnots(curve, shape);
  const index = intervalOf(curve.knotZMm, zMm);
  const share = shareAbove(curve.knotZMm, index, zMm);
  return (1 - share) * shape.wallMm[index] + share * shape.wallMm[index + 1];
}

/** Recomputes the vertices. @returns false when the edges do not fit into the height or the knots have crossed */
export function drawProfile(curve: ProfileCurve, shape: ProfileShape): boolean {
  const { heightMm, baseEdgeMm, topEdgeMm } = shape;
  if (!(heightMm > 0) || baseEdgeMm + topEdgeMm > 0.95 * heightMm) return false;
  const last = shape.wallMm[curve.layout.knotShares.length - 1];
  if (baseEdgeMm > LARGEST_EDGE_SHARE * shape.wallMm[0] || topEdgeMm > LARGEST_TOP_SHARE * last) return false;
  if (!placeKnots(curve, shape)) return false;
  curve.count = 0;
  for (let i = 0; i <= ARC_PIECES; i++) {
    const { along, inward } = ARC[i];
    addVertex(curve, shape, baseEdgeMm * along, along, inward, 'base');
  }
  const z = curve.knotZMm;
  for (let k = 1; k + 1 < z.length; k++) {
    if (z[k] > baseEdgeMm + 1e-6 && z[k] < heightMm - topEdgeMm - 1e-6) addVertex(curve, shape, z[k], 0, 0, 'wall');
  }
  for (let i = ARC_PIECES; i >= 0; i--) {
    const { along, inward } = ARC[i];
    addVertex(curve, shape, heightMm - topEdgeMm * along, along, inward, 'top');
  }
  return true;
}

/**
 * Spreads a derivative by the place of vertex v over the parameters:
 * value = byRadius · ∂radius + byHeight · ∂z of the vertex.
 */
export function traceVertex(
  curve: ProfileCurve,
  shape: Pick<ProfileShape, 'heightMm' | 'baseEdgeMm' | 'topEdgeMm'>,
  v: number,
  byRadius: number,
  byHeight: number,
  add: (column: number, value: number) => void,
): void {
  add(LOG_HEIGHT, shape.heightMm * (byRadius * curve.radiusByHeight[v] + byHeight * curve.zByHeight[v]));
  add(LOG_BASE_EDGE, shape.baseEdgeMm * (byRadius * curve.radiusByBaseEdge[v] + byHeight * curve.zByBaseEdge[v]));
  add(LOG_TOP_EDGE, shape.topEdgeMm * (byRadius * curve.radiusByTopEdge[v] + byHeight * curve.zByTopEdge[v]));
  add(WALL + curve.knotIndex[v], byRadius * (1 - curve.knotShare[v]));
  add(WALL + curve.knotIndex[v] + 1, byRadius * curve.knotShare[v]);
  const { knotShares, edgeShares } = curve.layout;
  const byShift = byRadius * curve.radiusByShift[v] + byHeight * curve.zByShift[v];
  const shifts = WALL + knotShares.length;
  const below = curve.edgeIndex[v] - 1;
  if (below >= 0) add(shifts + below, byShift * (1 - curve.edgeShare[v]));
  if (below + 1 < edgeShares.length) add(shifts + below + 1, byShift * curve.edgeShare[v]);
}

function placeKnots(curve: ProfileCurve, shape: ProfileShape): boolean {
  const { knotShares, edgeShares } = curve.layout;
  let edge = 0;
  for (let k = 0; k < knotShares.length; k++) {
    while (edge < edgeShares.length && edgeShares[edge] < knotShares[k]) edge++;
    const low = edge > 0 ? edgeShares[edge - 1] : 0;
    const high = edge < edgeShares.length ? edgeShares[edge] : 1;
    const shiftLow = edge > 0 ? shape.edgeShiftMm[edge - 1] : 0;
    const shiftHigh = edge < edgeShares.length ? shape.edgeShiftMm[edge] : 0;
    const share = (knotShares[k] - low) / (high - low);
    curve.knotZMm[k] = knotShares[k] * shape.heightMm + (1 - share) * shiftLow + share * shiftHigh;
    if (k > 0 && curve.knotZMm[k] - curve.knotZMm[k - 1] < SMALLEST_KNOT_GAP_MM) return false;
  }
  return true;
}

function addVertex(
  curve: ProfileCurve,
  shape: ProfileShape,
  zMm: number,
  alongShare: number,
  inwardShare: number,
  part: 'base' | 'wall' | 'top',
): void {
  const z = curve.knotZMm;
  const { knotShares, edgeShares } = curve.layout;
  const index = intervalOf(z, zMm);
  const share = shareAbove(z, index, zMm);
  const slope = (shape.wallMm[index + 1] - shape.wallMm[index]) / (z[index + 1] - z[index]);
  const wall = (1 - share) * shape.wallMm[index] + share * shape.wallMm[index + 1];
  const edge = part === 'base' ? shape.baseEdgeMm : part === 'top' ? shape.topEdgeMm : 0;
  // the same place of the wall before its edges moved
  const heightShare = (1 - share) * knotShares[index] + share * knotShares[index + 1];
  let above = 0;
  while (above < edgeShares.length && edgeShares[above] < heightShare) above++;
  const low = above > 0 ? edgeShares[above - 1] : 0;
  const high = above < edgeShares.length ? edgeShares[above] : 1;
  const v = curve.count++;
  curve.zMm[v] = zMm;
  curve.radiusMm[v] = Math.max(wall - edge * inwardShare, SMALLEST_RADIUS_MM);
  curve.knotIndex[v] = index;
  curve.knotShare[v] = share;
  curve.edgeIndex[v] = above;
  curve.edgeShare[v] = (heightShare - low) / (high - low);
  curve.zByHeight[v] = part === 'base' ? 0 : part === 'top' ? 1 : heightShare;
  curve.radiusByHeight[v] = slope * (curve.zByHeight[v] - heightShare);
  curve.zByBaseEdge[v] = part === 'base' ? alongShare : 0;
  curve.radiusByBaseEdge[v] = part === 'base' ? slope * alongShare - inwardShare : 0;
  curve.zByTopEdge[v] = part === 'top' ? -alongShare : 0;
  curve.radiusByTopEdge[v] = part === 'top' ? -slope * alongShare - inwardShare : 0;
  curve.zByShift[v] = part === 'wall' ? 1 : 0;
  curve.radiusByShift[v] = part === 'wall' ? 0 : -slope;
}

/** Index of the interval of an ascending list that holds a value; the outermost ones reach to infinity. */
function intervalOf(list: Float64Array, value: number): number {
  let low = 0;
  let high = list.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (list[middle] <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

function shareAbove(list: Float64Array, index: number, value: number): number {
  return (value - list[index]) / (list[index + 1] - list[index]);
}
