import type { Polyline } from './solid-of-revolution.ts';

/**
 * The container's outer profile: a wall of straight pieces between knots at fixed shares of the height, whose foot and
 * top run into the end discs through quarter-circle edges. Vertices carry their derivatives, so that whatever touches
 * the surface can be traced back to the parameters.
 */
export interface ProfileCurve extends Polyline {
  /** Share of the height of every knot, 0 … 1. */
  readonly knotShares: Float64Array;
  /** Wall radius at vertex v is (1 − knotShare) · knot[knotIndex] + knotShare · knot[knotIndex + 1], less the edge. */
  readonly knotIndex: Int32Array;
  readonly knotShare: Float64Array;
  readonly zByHeight: Float64Array;
  readonly radiusByHeight: Float64Array;
  readonly zByBaseEdge: Float64Array;
  readonly radiusByBaseEdge: Float64Array;
  readonly zByTopEdge: Float64Array;
  readonly radiusByTopEdge: Float64Array;
}

export interface ProfileShape {
  readonly heightMm: number;
  readonly baseEdgeMm: number;
  readonly topEdgeMm: number;
  /** Wall radius at every knot, mm. */
  readonly wallMm: ArrayLike<number>;
}

/** Pieces per quarter circle: the chord stays within 0.7 % of the edge radius. */
const EDGE_PIECES = 7;
/** A base edge larger than this share of the radius would be a round bottom. */
const LARGEST_EDGE_SHARE = 0.5;
const SMALLEST_RADIUS_MM = 0.05;

export function newProfileCurve(knotShares: Float64Array): ProfileCurve {
  const capacity = knotShares.length + 2 * (EDGE_PIECES + 1);
  const list = () => new Float64Array(capacity);
  return {
    count: 0,
    zMm: list(),
    radiusMm: list(),
    knotShares,
    knotIndex: new Int32Array(capacity),
    knotShare: list(),
    zByHeight: list(),
    radiusByHeight: list(),
    zByBaseEdge: list(),
    radiusByBaseEdge: list(),
    zByTopEdge: list(),
    radiusByTopEdge: list(),
  };
}

/** Wall radius at height z (mm), edges left out; beyond the ends it goes on straight. */
export function wallRadiusMm(curve: ProfileCurve, shape: ProfileShape, zMm: number): number {
  const index = knotBelow(curve.knotShares, zMm / shape.heightMm);
  const share = shareAbove(curve.knotShares, index, zMm / shape.heightMm);
  return (1 - share) * shape.wallMm[index] + share * shape.wallMm[index + 1];
}

/** Recomputes the vertices. @returns false when the edges do not fit into the height */
export function drawProfile(curve: ProfileCurve, shape: ProfileShape): boolean {
  const { heightMm, baseEdgeMm, topEdgeMm } = shape;
  if (!(heightMm > 0) || baseEdgeMm + topEdgeMm > 0.95 * heightMm) return false;
  if (baseEdgeMm > LARGEST_EDGE_SHARE * shape.wallMm[0]) return false;
  curve.count = 0;
  for (let i = 0; i <= EDGE_PIECES; i++) {
    const angle = (i / EDGE_PIECES) * (Math.PI / 2);
    addVertex(curve, shape, baseEdgeMm * (1 - Math.cos(angle)), 1 - Math.cos(angle), 1 - Math.sin(angle), 'base');
  }
  const shares = curve.knotShares;
  for (let k = 1; k + 1 < shares.length; k++) {
    const z = shares[k] * heightMm;
    if (z > baseEdgeMm + 1e-6 && z < heightMm - topEdgeMm - 1e-6) addVertex(curve, shape, z, 0, 0, 'wall');
  }
  for (let i = EDGE_PIECES; i >= 0; i--) {
    const angle = (i / EDGE_PIECES) * (Math.PI / 2);
    const drop = 1 - Math.cos(angle);
    addVertex(curve, shape, heightMm - topEdgeMm * drop, drop, 1 - Math.sin(angle), 'top');
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
  const { heightMm } = shape;
  const shares = curve.knotShares;
  const index = knotBelow(shares, zMm / heightMm);
  const share = shareAbove(shares, index, zMm / heightMm);
  const slope = (shape.wallMm[index + 1] - shape.wallMm[index]) / ((shares[index + 1] - shares[index]) * heightMm);
  const wall = (1 - share) * shape.wallMm[index] + share * shape.wallMm[index + 1];
  const edge = part === 'base' ? shape.baseEdgeMm : part === 'top' ? shape.topEdgeMm : 0;
  const v = curve.count++;
  curve.zMm[v] = zMm;
  curve.radiusMm[v] = Math.max(wall - edge * inwardShare, SMALLEST_RADIUS_MM);
  curve.knotIndex[v] = index;
  curve.knotShare[v] = share;
  curve.zByHeight[v] = part === 'base' ? 0 : part === 'top' ? 1 : zMm / heightMm;
  curve.radiusByHeight[v] = slope * (curve.zByHeight[v] - zMm / heightMm);
  curve.zByBaseEdge[v] = part === 'base' ? alongShare : 0;
  curve.radiusByBaseEdge[v] = part === 'base' ? slope * alongShare - inwardShare : 0;
  curve.zByTopEdge[v] = part === 'top' ? -alongShare : 0;
  curve.radiusByTopEdge[v] = part === 'top' ? -slope * alongShare - inwardShare : 0;
}

function knotBelow(shares: Float64Array, share: number): number {
  let low = 0;
  let high = shares.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (shares[middle] <= share) low = middle;
    else high = middle - 1;
  }
  return low;
}

function shareAbove(shares: Float64Array, index: number, share: number): number {
  return (share - shares[index]) / (shares[index + 1] - shares[index]);
}
