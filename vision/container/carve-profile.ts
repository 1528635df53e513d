import { castRay, RAY_SIZE } from '../geometry/camera-ray.ts';
import { rotateRay } from '../geometry/grazing-ray.ts';
import type { Vector3 } from '../geometry/linear3.ts';
import type { OutlinePoint } from '../sighting.ts';
import { containerFromCamera, eyeInContainer, type ModelState } from './container-model.ts';

/** Outline samples farther apart than this many median spacings do not belong to one stretch. */
const LARGEST_GAP = 3;
/** Rays put in between two neighbouring samples. */
const RAYS_PER_GAP = 4;
const SMALLEST_RADIUS_MM = 1;
/** Base edges seldom have a larger radius: below this height the hull may show the edge instead of the wall. */
const LARGE_BASE_EDGE_MM = 10;
/** A height is seen when a ray passes the axis this near to it, as a share of the container's height. */
const SEEN_SHARE = 0.03;

export interface CarvedProfile {
  readonly radiiMm: Float64Array;
  /** Whether the outline shows that height, or whether its radius was guessed from its neighbours. */
  readonly seen: readonly boolean[];
}

/**
 * The visual hull of revolution: at every height the largest circle about the axis that stays inside all viewing rays of
 * the outline. Sharp steps come out sharp, whatever the fit thought before; noise makes it a little too narrow.
 * @param shares heights as shares of the container's height
 * @returns wall radius at those heights, mm; inside the end edges the wall is carried on straight
 */
export function carveProfile(outline: readonly OutlinePoint[], state: ModelState, shares: Float64Array): CarvedProfile {
  const rays = denseRays(outline, state);
  const [px, py, pz] = eyeInContainer(state);
  const radii = new Float64Array(shares.length).fill(Number.POSITIVE_INFINITY);
  for (let i = 0; i < rays.length; i += 3) {
    const [dx, dy, dz] = [rays[i], rays[i + 1], rays[i + 2]];
    if (Math.abs(dz) < 1e-9) continue;
    for (let k = 0; k < shares.length; k++) {
      const t = (shares[k] * state.heightMm - pz) / dz;
      if (t <= 0) continue;
      const x = px + t * dx;
      const y = py + t * dy;
      const square = x * x + y * y;
      if (square < radii[k]) radii[k] = square;
    }
  }
  for (let k = 0; k < radii.length; k++) radii[k] = Math.max(Math.sqrt(radii[k]), SMALLEST_RADIUS_MM);
  const seen = seenHeights(rays, [px, py, pz], shares, state.heightMm);
  bridgeUnseen(radii, shares, seen);
  carryOnIntoEnds(radii, shares, state);
  return { radiiMm: radii, seen };
}

/** Which heights have rays close to them, below and above, where these come nearest to the axis. */
function seenHeights(
  rays: readonly number[],
  [px, py, pz]: Vector3,
  shares: Float64Array,
  heightMm: number,
): readonly boolean[] {
  const below = new Array<boolean>(shares.length).fill(false);
  const above = new Array<boolean>(shares.length).fill(false);
  for (let i = 0; i < rays.length; i += 3) {
    const [dx, dy, dz] = [rays[i], rays[i + 1], rays[i + 2]];
    const share = (pz - ((px * dx + py * dy) / (dx * dx + dy * dy)) * dz) / heightMm;
    for (let k = 0; k < shares.length; k++) {
      const offset = share - shares[k];
      if (offset <= 0 && offset > -SEEN_SHARE) below[k] = true;
      if (offset >= 0 && offset < SEEN_SHARE) above[k] = true;
    }
  }
  return below.map((isBelow, k) => isBelow && above[k]);
}

/** Behind the card nothing is seen: straight from the last seen radius to the next. */
function bridgeUnseen(radii: Float64Array, shares: Float64Array, seen: readonly boolean[]): void {
  const first = seen.indexOf(true);
  if (first < 0) return;
  const last = seen.lastIndexOf(true);
  let before = first;
  for (let k = 0; k < radii.length; k++) {
    if (seen[k]) {
      before = k;
      continue;
    }
    if (k < first) radii[k] = radii[first];
    else if (k > last) radii[k] = radii[last];
    else {
      const after = seen.indexOf(true, k);
      const share = (shares[k] - shares[before]) / (shares[after] - shares[before]);
      radii[k] = radii[before] + share * (radii[after] - radii[before]);
    }
  }
}

/** Rays of the outline in the container frame, with more of them between neighbouring samples. */
function denseRays(outline: readonly OutlinePoint[], state: ModelState): number[] {
  const toContainer = containerFromCamera(state);
  const ray = new Float64Array(RAY_SIZE);
  const direction = new Float64Array(3);
  const gaps = outline.map((p, i) => distance(p, outline[(i + 1) % outline.length]));
  const widest = LARGEST_GAP * [...gaps].sort((a, b) => a - b)[gaps.length >> 1];
  const rays: number[] = [];
  outline.forEach((p, i) => {
    const next = outline[(i + 1) % outline.length];
    const pieces = gaps[i] <= widest ? RAYS_PER_GAP : 1;
    for (let s = 0; s < pieces; s++) {
      const x = p.xPx + (s / pieces) * (next.xPx - p.xPx);
      const y = p.yPx + (s / pieces) * (next.yPx - p.yPx);
      if (!castRay(state.camera, x, y, ray)) continue;
      rotateRay(toContainer, ray[0], ray[1], 1, direction);
      rays.push(direction[0], direction[1], direction[2]);
    }
  });
  return rays;
}

function distance(a: OutlinePoint, b: OutlinePoint): number {
  return Math.hypot(a.xPx - b.xPx, a.yPx - b.yPx);
}

/** The rounded edges are not part of the wall: within them it goes on as just inside. */
function carryOnIntoEnds(radii: Float64Array, shares: Float64Array, state: ModelState): void {
  const foot = Math.min(Math.max(1.3 * state.baseEdgeMm, LARGE_BASE_EDGE_MM) / state.heightMm, 0.2);
  const brow = 1 - Math.min((1.3 * state.topEdgeMm) / state.heightMm, 0.2);
  const first = shares.findIndex((share) => share >= foot);
  const last = shares.length - 1 - [...shares].reverse().findIndex((share) => share <= brow);
  const second = Math.min(
    shares.findIndex((share) => share >= foot + 0.06),
    last,
  );
  const slope = second > first ? (radii[second] - radii[first]) / (shares[second] - shares[first]) : 0;
  for (let k = 0; k < first; k++) {
    radii[k] = Math.max(radii[first] + slope * (shares[k] - shares[first]), SMALLEST_RADIUS_MM);
  }
  for (let k = last + 1; k < shares.length; k++) radii[k] = radii[last];
}
