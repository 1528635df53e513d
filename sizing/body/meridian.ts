import type { Container, ProfilePoint } from '../container.ts';
import type { Estimate } from '../estimate.ts';

/** A point of the container's half section: arc length from the centre of the base, radius and height. */
export interface MeridianPoint {
  readonly sMm: number;
  readonly rMm: number;
  readonly zMm: number;
}

/** The half section that fabric follows: across the base, round its edge, up the wall to the rim. */
export interface Meridian {
  readonly points: readonly MeridianPoint[];
  readonly edgeRadiusMm: number;
  readonly heightMm: number;
  /** Rounds above this height are worked with the container inside and pass nothing; null: all are pulled over. */
  readonly insideFromMm: number | null;
}

/** Edge radius assumed when it is not known: most bottles, cans and jars lie near it (common practice, no source). */
const ASSUMED_EDGE_MM = 4;
const ASSUMED_EDGE_SHARE = 0.06;

/** Noise along a finely sampled profile would lengthen the arc; points closer than this are averaged. */
const PROFILE_STEP_SHARE = 1 / 60;

export function meridianOf(container: Container): Meridian {
  const heightMm = container.heightMm.value;
  const baseRadiusMm = container.baseDiameterMm.value / 2;
  const edgeRadiusMm = edgeRadius(container);
  const wall = averaged(container.profile, Math.max(1.5, heightMm * PROFILE_STEP_SHARE))
    .filter((point) => point.zMm > edgeRadiusMm && point.zMm <= heightMm)
    .map((point) => ({ rMm: point.radiusMm, zMm: point.zMm }));
  const edgeTopRadiusMm = radiusOnProfile(container.profile, edgeRadiusMm, baseRadiusMm);
  const flatRadiusMm = Math.max(0, baseRadiusMm - edgeRadiusMm);
  const outline = [
    { rMm: 0, zMm: 0 },
    { rMm: flatRadiusMm, zMm: 0 },
  ];
  for (let step = 1; step <= 6; step++) {
    const angle = (step / 6) * (Math.PI / 2);
    outline.push({
      rMm: flatRadiusMm + (edgeTopRadiusMm - flatRadiusMm) * Math.sin(angle),
      zMm: edgeRadiusMm * (1 - Math.cos(angle)),
    });
  }
  outline.push(...wall);
  const last = outline[outline.length - 1];
  if (last.zMm < heightMm) outline.push({ rMm: last.rMm, zMm: heightMm });
  return { points: withArcLength(outline), edgeRadiusMm, heightMm, insideFromMm: null };
}

/** Radius and height at arc length s; beyond the rim, the rim. */
export function meridianAt(meridian: Meridian, sMm: number): MeridianPoint {
  return interpolate(meridian.points, 'sMm', sMm);
}

/** Arc length and radius at height z above the table, on the wall. */
export function meridianAtHeight(meridian: Meridian, zMm: number): MeridianPoint {
  return interpolate(meridian.points, 'zMm', zMm);
}

/** The same where the top is worked round the container, from where it narrows by more than fabric stretches over. */
export function workedAround(meridian: Meridian, give: number): Meridian {
  let widest = 0;
  for (const [low, high] of slices(meridian)) {
    widest = Math.max(widest, low.rMm);
    const passableMm = widest / (1 + give);
    if (high.rMm < passableMm) {
      const share = (low.rMm - passableMm) / (low.rMm - high.rMm);
      return { ...meridian, insideFromMm: low.zMm + share * (high.zMm - low.zMm) };
    }
  }
  return meridian;
}

/** Largest radius between the table and height z: what a ring of the carrier at z must pass when put on. */
export function widestRadiusBelowMm(meridian: Meridian, zMm: number): number {
  let widest = meridianAtHeight(meridian, zMm).rMm;
  if (meridian.insideFromMm !== null && zMm >= meridian.insideFromMm) return widest;
  for (const point of meridian.points) if (point.zMm <= zMm) widest = Math.max(widest, point.rMm);
  return widest;
}

/** Volume inside the outer surface, sum of frustums: V = pi h (R^2 + R r + r^2) / 3. */
export function outerVolumeMl(meridian: Meridian): number {
  let volumeMm3 = 0;
  for (const [low, high] of slices(meridian)) volumeMm3 += frustumMm3(low, high);
  return volumeMm3 / 1000;
}

/** Outer surface, base included: sum of cone mantles pi (R + r) s. */
export function outerSurfaceMm2(meridian: Meridian): number {
  let areaMm2 = 0;
  for (const [low, high] of slices(meridian)) areaMm2 += Math.PI * (low.rMm + high.rMm) * (high.sMm - low.sMm);
  return areaMm2;
}

/** Height of the centre of mass of the full container, taken as evenly filled. */
export function centreOfMassZMm(meridian: Meridian): number {
  let volume = 0;
  let moment = 0;
  for (const [low, high] of slices(meridian)) {
    const slice = frustumMm3(low, high);
    volume += slice;
    moment += (slice * (low.zMm + high.zMm)) / 2;
  }
  return volume > 0 ? moment / volume : meridian.heightMm / 2;
}

/**
 * Outer volume with its uncertainty: twice the relative error across and once that of the height; the part that is one
 * common error of scale goes in with the third power.
 */
export function capacityMl(container: Container, meridian: Meridian): Estimate {
  const value = outerVolumeMl(meridian);
  const scale = container.relativeScaleSd ?? 0;
  const own = ({ value: length, sd }: Estimate) => Math.sqrt(Math.max(0, (sd / length) ** 2 - scale ** 2));
  return { value, sd: value * Math.hypot(2 * own(container.maxDiameterMm), own(container.heightMm), 3 * scale) };
}

function edgeRadius({ baseEdgeRadiusMm, baseDiameterMm, heightMm }: Container): number {
  const assumed = Math.min(ASSUMED_EDGE_MM, ASSUMED_EDGE_SHARE * baseDiameterMm.value);
  return Math.min(baseEdgeRadiusMm?.value ?? assumed, baseDiameterMm.value / 2, heightMm.value / 2);
}

function averaged(profile: readonly ProfilePoint[], stepMm: number): ProfilePoint[] {
  const result: ProfilePoint[] = [];
  let bin: ProfilePoint[] = [];
  for (const point of profile) {
    if (bin.length > 0 && point.zMm - bin[0].zMm >= stepMm) {
      result.push(meanPoint(bin));
      bin = [];
    }
    bin.push(point);
  }
  if (bin.length > 0) result.push(meanPoint(bin));
  return result;
}

function meanPoint(points: readonly ProfilePoint[]): ProfilePoint {
  const mean = (pick: (point: ProfilePoint) => number) =>
    points.reduce((sum, point) => sum + pick(point), 0) / points.length;
  return { zMm: mean((p) => p.zMm), radiusMm: mean((p) => p.radiusMm), sdMm: mean((p) => p.sdMm) };
}

function radiusOnProfile(profile: readonly ProfilePoint[], zMm: number, fallbackMm: number): number {
  const above = profile.findIndex((point) => point.zMm >= zMm);
  if (above <= 0) return fallbackMm;
  const low = profile[above - 1];
  const high = profile[above];
  const share = high.zMm === low.zMm ? 1 : (zMm - low.zMm) / (high.zMm - low.zMm);
  const radiusMm = low.radiusMm + share * (high.radiusMm - low.radiusMm);
  // A profile that still rounds the edge here would hide the wall.
  return Math.max(radiusMm, fallbackMm * 0.9);
}

function withArcLength(outline: readonly { rMm: number; zMm: number }[]): MeridianPoint[] {
  let sMm = 0;
  return outline.map((point, index) => {
    const previous = outline[index - 1] ?? point;
    sMm += Math.hypot(point.rMm - previous.rMm, point.zMm - previous.zMm);
    return { sMm, rMm: point.rMm, zMm: point.zMm };
  });
}

function interpolate(points: readonly MeridianPoint[], key: 'sMm' | 'zMm', wanted: number): MeridianPoint {
  const first = points[0];
  if (wanted <= first[key]) return key === 'zMm' ? (points.find((p) => p.zMm > 0) ?? first) : first;
  let low = 0;
  let high = points.length - 1;
  if (wanted >= points[high][key]) return points[high];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (points[middle][key] <= wanted) low = middle;
    else high = middle;
  }
  const share = (wanted - points[low][key]) / (points[high][key] - points[low][key]);
  const between = (k: 'sMm' | 'rMm' | 'zMm') => points[low][k] + share * (points[high][k] - points[low][k]);
  return { sMm: between('sMm'), rMm: between('rMm'), zMm: between('zMm') };
}

function slices(meridian: Meridian): [MeridianPoint, MeridianPoint][] {
  return meridian.points.slice(1).map((point, index) => [meridian.points[index], point]);
}

function frustumMm3(low: MeridianPoint, high: MeridianPoint): number {
  return (Math.PI * (high.zMm - low.zMm) * (high.rMm ** 2 + high.rMm * low.rMm + low.rMm ** 2)) / 3;
}
