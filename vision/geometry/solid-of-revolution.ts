/**
 * Where a viewing ray touches a surface of revolution whose profile is a polyline (z, r), z increasing, closed by flat
 * discs at both ends. Everything is in the container frame; the ray is origin + t · direction.
 *
 * On each piece the surface is a cone, and on each vertex a circle; the image of either is a conic, so the shift of a
 * pixel that makes its ray touch is the root of a quadratic.
 */
export interface Polyline {
  /** Number of vertices in use; the arrays may be longer. */
  count: number;
  readonly zMm: Float64Array;
  readonly radiusMm: Float64Array;
}

/** What the ray comes nearest to: the piece from vertex `index` to `index + 1`, or the circle of vertex `index`. */
export interface NearestFeature {
  index: number;
  isCircle: boolean;
  /** Least distance to the axis minus radius, mm: negative when the ray pierces the solid. */
  clearanceMm: number;
}

/**
 * Finds the feature with the least clearance ρ − r, ρ = distance to the axis.
 * Source: minimum of √(p (t − t0)² + e) − (linear in t), in closed form per piece.
 * @param found   holds the answer; what it held before is tried first, which spares most of the work
 * @param within  looks no further than so many pieces from what it held before
 */
export function findNearestFeature(
  solid: Polyline,
  origin: ArrayLike<number>,
  dx: number,
  dy: number,
  dz: number,
  found: NearestFeature,
  within = Number.POSITIVE_INFINITY,
): void {
  const { count, zMm, radiusMm } = solid;
  const px = origin[0];
  const py = origin[1];
  const pz = origin[2];
  const p = dx * dx + dy * dy;
  const q = px * dx + py * dy;
  const e = Math.max(px * px + py * py - (q * q) / p, 0);
  const tAxis = -q / p;
  const isLevel = Math.abs(dz) < 1e-12;
  const perHeight = isLevel ? 0 : 1 / dz;
  const first = Math.min(Math.max(found.index, 0), count - 2);
  let best = Number.POSITIVE_INFINITY;
  found.isCircle = true;
  found.index = pz + tAxis * dz > zMm[count - 1] * 0.5 ? count - 1 : 0;
  const from = Math.max(first - within, 0);
  const to = Math.min(first + within, count - 2);
  for (let k = from - 1; k <= to; k++) {
    const i = k < from ? first : k;
    const z0 = zMm[i];
    const z1 = zMm[i + 1];
    // part of the ray between the planes z0 and z1
    let tLow = 1e-6;
    let tHigh = 1e9;
    if (!isLevel) {
      const tAt0 = (z0 - pz) * perHeight;
      const tAt1 = (z1 - pz) * perHeight;
      tHigh = Math.max(tAt0, tAt1);
      if (tHigh < tLow) continue;
      const entry = Math.min(tAt0, tAt1);
      if (entry > tLow) tLow = entry;
    } else if (pz < z0 || pz > z1) continue;
    const r0 = radiusMm[i];
    const r1 = radiusMm[i + 1];
    const offset = tAxis < tLow ? tLow - tAxis : tAxis > tHigh ? tAxis - tHigh : 0;
    const reach = best + Math.max(r0, r1);
    if (reach > 0 && p * offset * offset + e >= reach * reach) continue;
    const slope = (r1 - r0) / (z1 - z0);
    const steepness = p - slope * slope * dz * dz;
    let t = steepness > 0 ? tAxis + slope * dz * Math.sqrt(e / (p * steepness)) : slope * dz > 0 ? tHigh : tLow;
    let isCircle = false;
    if (t <= tLow || t >= tHigh) {
      isCircle = true;
      t = t <= tLow ? tLow : tHigh;
    }
    const z = pz + t * dz;
    const clearance = Math.sqrt(p * (t - tAxis) * (t - tAxis) + e) - (r0 + slope * (z - z0));
    if (clearance < best) {
      best = clearance;
      found.isCircle = isCircle;
      found.index = isCircle && Math.abs(z - z1) < Math.abs(z - z0) ? i + 1 : i;
    }
  }
  found.clearanceMm = best;
}

/**
 * Smallest step s along `change` after which the ray origin + t (direction + s change) leaves the feature, i.e. the
 * outward root of its conic. NaN when the line never touches it.
 */
export function stepToTouch(
  { zMm, radiusMm }: Polyline,
  feature: NearestFeature,
  origin: ArrayLike<number>,
  direction: ArrayLike<number>,
  change: ArrayLike<number>,
): number {
  const px = origin[0];
  const py = origin[1];
  const pz = origin[2];
  const dx = direction[0];
  const dy = direction[1];
  const dz = direction[2];
  const ex = change[0];
  const ey = change[1];
  const ez = change[2];
  let c: number;
  let b: number;
  let a: number;
  if (feature.isCircle) {
    const height = zMm[feature.index] - pz;
    const rr = radiusMm[feature.index] ** 2;
    const ux = px * dz + height * dx;
    const uy = py * dz + height * dy;
    const wx = px * ez + height * ex;
    const wy = py * ez + height * ey;
    c = ux * ux + uy * uy - rr * dz * dz;
    b = ux * wx + uy * wy - rr * dz * ez;
    a = wx * wx + wy * wy - rr * ez * ez;
  } else {
    const i = feature.index;
    const m = (radiusMm[i + 1] - radiusMm[i]) / (zMm[i + 1] - zMm[i]);
    const k = radiusMm[i] + m * (pz - zMm[i]);
    const outside = px * px + py * py - k * k;
    const u = px * dx + py * dy - m * k * dz;
    const w = px * ex + py * ey - m * k * ez;
    c = (dx * dx + dy * dy - m * m * dz * dz) * outside - u * u;
    b = (dx * ex + dy * ey - m * m * dz * ez) * outside - u * w;
    a = (ex * ex + ey * ey - m * m * ez * ez) * outside - w * w;
  }
  const discriminant = b * b - a * c;
  if (!(discriminant >= 0)) return Number.NaN;
  const root = Math.sqrt(discriminant);
  // the root where the conic's form goes from inside (negative) to outside (positive)
  return b > 0 ? -c / (b + root) : (root - b) / a;
}

/** Ray parameter t of the touching point, for a ray that touches the feature. */
export function touchingParameter(
  { zMm, radiusMm }: Polyline,
  feature: NearestFeature,
  origin: ArrayLike<number>,
  direction: ArrayLike<number>,
): number {
  const px = origin[0];
  const py = origin[1];
  const pz = origin[2];
  const dx = direction[0];
  const dy = direction[1];
  const dz = direction[2];
  if (feature.isCircle) {
    if (Math.abs(dz) > 1e-9) return (zMm[feature.index] - pz) / dz;
    return -(px * dx + py * dy) / (dx * dx + dy * dy);
  }
  const i = feature.index;
  const m = (radiusMm[i + 1] - radiusMm[i]) / (zMm[i + 1] - zMm[i]);
  const k = radiusMm[i] + m * (pz - zMm[i]);
  return -(px * dx + py * dy - m * k * dz) / (dx * dx + dy * dy - m * m * dz * dz);
}
