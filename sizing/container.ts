import type { Estimate } from './estimate.ts';
import { type Field, refuseInconsistent, requireInRange, requireOneOf } from './refusal.ts';

/** Outer radius at height z above the table the container stands on. */
export interface ProfilePoint {
  readonly zMm: number;
  readonly radiusMm: number;
  readonly sdMm: number;
}

export const MATERIALS = ['glass', 'plastic', 'thin metal', 'double-walled metal', 'ceramic', 'paper'] as const;
export type Material = (typeof MATERIALS)[number];

/** A round container, outside measures, cap and lid included. */
export interface Container {
  readonly heightMm: Estimate;
  readonly maxDiameterMm: Estimate;
  /** Wall extended down to the table, before the edge is rounded off. */
  readonly baseDiameterMm: Estimate;
  /** From the table up, z strictly rising; at least two points. May start above the rounded edge. */
  readonly profile: readonly ProfilePoint[];
  /** Radius of the rounded edge between base and wall; null when unknown. */
  readonly baseEdgeRadiusMm: Estimate | null;
  /** Where the body ends and a shoulder narrows it; null when there is none or it is unknown. */
  readonly shoulderZMm: Estimate | null;
  /** Share of every length that is one common error (the scale of the photo or the tape). */
  readonly relativeScaleSd?: number;
  /** Mass without contents, when weighed. */
  readonly emptyMassG?: number | null;
  readonly material?: Material | null;
}

export interface TapeMeasures {
  /** Across, at the base; or at any height when the walls are straight. */
  readonly diameterMm: number;
  readonly heightMm: number;
  /** Across at the rim, for a tapered cup. */
  readonly topDiameterMm?: number;
  readonly shoulderZMm?: number | null;
  /** Standard uncertainty of each reading. */
  readonly sdMm?: number;
}

/** A tape read by hand is good to about half a millimetre across and a millimetre in height: common practice, no source. */
const TAPE_SD_MM = 0.7;

export const CONTAINER_LIMITS = { diameterMm: [15, 400], heightMm: [10, 700] } as const;

/** Straight or tapered container from two or three tape readings. */
export function containerFromTape(tape: TapeMeasures): Container {
  const sd = tape.sdMm ?? TAPE_SD_MM;
  const top = tape.topDiameterMm ?? tape.diameterMm;
  return {
    heightMm: { value: tape.heightMm, sd },
    maxDiameterMm: { value: Math.max(tape.diameterMm, top), sd },
    baseDiameterMm: { value: tape.diameterMm, sd },
    profile: [
      { zMm: 0, radiusMm: tape.diameterMm / 2, sdMm: sd / 2 },
      { zMm: tape.heightMm, radiusMm: top / 2, sdMm: sd / 2 },
    ],
    baseEdgeRadiusMm: null,
    shoulderZMm: tape.shoulderZMm == null ? null : { value: tape.shoulderZMm, sd },
  };
}

/** Refuses sizes no carrier can be made for, naming the field. */
export function checkContainer(container: Container): void {
  const [minAcross, maxAcross] = CONTAINER_LIMITS.diameterMm;
  const [minHeight, maxHeight] = CONTAINER_LIMITS.heightMm;
  checkEstimate('container.baseDiameterMm', container.baseDiameterMm, minAcross, maxAcross);
  checkEstimate('container.maxDiameterMm', container.maxDiameterMm, minAcross, maxAcross);
  checkEstimate('container.heightMm', container.heightMm, minHeight, maxHeight);
  if (container.baseEdgeRadiusMm) {
    checkEstimate('container.baseEdgeRadiusMm', container.baseEdgeRadiusMm, 0, maxAcross / 2);
  }
  if (container.shoulderZMm) {
    // A measured shoulder may lie a little above a measured height; it is used within the height.
    checkEstimate('container.shoulderZMm', container.shoulderZMm, 0, Math.round(1.1 * container.heightMm.value));
  }
  if (container.relativeScaleSd !== undefined) {
    requireInRange('container.relativeScaleSd', container.relativeScaleSd, 0, 0.5, '');
  }
  if (container.emptyMassG != null) requireInRange('container.emptyMassG', container.emptyMassG, 0, 10_000, 'g');
  if (container.material != null) requireOneOf('container.material', container.material, MATERIALS);
  checkProfile(container);
}

function checkEstimate(field: Field, estimate: Estimate, min: number, max: number): void {
  requireInRange(field, estimate.value, min, max, 'mm');
  // A small edge radius or a shoulder near the table may be less certain than it is large.
  requireInRange(`${field}.sd`, estimate.sd, 0, Math.max(estimate.value / 2, 20), 'mm');
}

function checkProfile({ profile, maxDiameterMm, baseDiameterMm }: Container): void {
  if (profile.length < 2) {
    refuseInconsistent('container.profile', profile.length, { why: 'profile-too-short' });
  }
  let previousZMm = Number.NEGATIVE_INFINITY;
  for (const point of profile) {
    requireInRange('container.profile.zMm', point.zMm, -5, CONTAINER_LIMITS.heightMm[1] * 1.05, 'mm');
    requireInRange('container.profile.radiusMm', point.radiusMm, 0, CONTAINER_LIMITS.diameterMm[1] / 2, 'mm');
    requireInRange('container.profile.sdMm', point.sdMm, 0, CONTAINER_LIMITS.diameterMm[1] / 2, 'mm');
    if (point.zMm < previousZMm) {
      refuseInconsistent('container.profile', point.zMm, { why: 'profile-not-rising' });
    }
    previousZMm = point.zMm;
  }
  if (baseDiameterMm.value > maxDiameterMm.value * 1.02 + 1) {
    refuseInconsistent('container.baseDiameterMm', baseDiameterMm.value, {
      why: 'base-wider-than-widest',
      baseMm: baseDiameterMm.value,
      widestMm: maxDiameterMm.value,
    });
  }
}
