/** Inputs that may be refused; the words a maker knows them by are in web/text/<language>/plan-refusals.ts. */
export const FIELDS = [
  'container.baseDiameterMm',
  'container.maxDiameterMm',
  'container.heightMm',
  'container.baseEdgeRadiusMm',
  'container.shoulderZMm',
  'container.relativeScaleSd',
  'container.emptyMassG',
  'container.material',
  'container.profile',
  'container.profile.zMm',
  'container.profile.radiusMm',
  'container.profile.sdMm',
  'gauge.stitch',
  'gauge.stitchWidthMm',
  'gauge.roundHeightMm',
  'gauge.roundHeightMm / gauge.stitchWidthMm',
  'gauge.correlation',
  'gauge.strands',
  'gauge.hookMm',
  'gauge.category',
  'gauge.yarn.metresPer100g',
  'gauge.yarn.ballGrams',
  'gauge.yarn.fibre',
  'gauge.yarn.pricePerBall',
  'gauge.chainLengthMm',
  'gauge.meshSwatch.chains',
  'gauge.meshSwatch.barMm',
  'gauge.yarnPerStitchMm',
  'gauge.cordSample.yarnPerLength',
  'gauge.cordSample.stitchLengthMm',
  'gauge.stitchesPerMinute',
  'choices.carrier',
  'choices.baseCandidate',
  'choices.easeRatio',
  'choices.plainWallRounds',
  'choices.mesh.kind',
  'choices.mesh.mostHoleMm',
  'choices.top',
  'choices.stripes.colours',
  'choices.stripes.rounds',
  'choices.mesh.chains',
  'choices.mesh.skip',
  'choices.mesh.postStitch',
  'choices.band.rounds',
  'choices.band.stitchesPerSpace',
  'choices.strap.style',
  'choices.strap.fastening',
  'choices.strap.cord',
  'choices.strap.lengthMm',
  'choices.strap.wearerAroundMm',
  'choices.coverHeightMm',
  'choices.matOverhangMm',
  'choices.hourlyRate',
  'choices.price',
  'choices.feeShare',
  'swatch.grams',
  'swatch.stitches',
  'swatch.rounds',
  'swatch.widthMm',
  'swatch.heightMm',
  'swatch.lengthMm',
  'swatch.metresPer100g',
  'chainSample.chains',
  'chainSample.lengthMm',
  'cordSample.cordLengthMm',
  'cordSample.stitches',
  'cordSample.yarnLengthMm',
  'progress',
  'progress.afterRound',
  'progress.sdMm',
  'progress.measuredWidthMm',
  'progress.measuredHeightMm',
  'disc.roundsWorked',
  'disc.stitchCount',
  'disc.measuredWidthMm',
  'disc.sdMm',
] as const;
export type Field = (typeof FIELDS)[number];

/** A field, or the standard uncertainty that belongs to it. */
export type FieldOrSd = Field | `${Field}.sd`;

export type Allowed =
  | { readonly kind: 'range'; readonly min: number; readonly max: number; readonly unit: '' | 'mm' | 'g' | 'm' }
  | { readonly kind: 'whole'; readonly min: number; readonly max: number }
  | { readonly kind: 'one-of'; readonly options: readonly string[] };

/** Values that are possible one by one but not together. */
export type Inconsistency =
  | { readonly why: 'profile-too-short' }
  | { readonly why: 'profile-not-rising' }
  | { readonly why: 'base-wider-than-widest'; readonly baseMm: number; readonly widestMm: number }
  | { readonly why: 'cover-above-rim'; readonly coverMm: number; readonly heightMm: number }
  | { readonly why: 'nothing-measured' }
  | { readonly why: 'width-of-mesh' }
  | { readonly why: 'height-of-base' };

/** Why no plan could be made: a code with its values. */
export type Refusal =
  | {
      readonly code: 'out-of-range';
      readonly field: FieldOrSd;
      readonly value: number | string;
      readonly allowed: Allowed;
    }
  | ({
      readonly code: 'inconsistent';
      readonly field: Field;
      readonly value: number | string | null;
    } & Inconsistency)
  | {
      readonly code: 'too-coarse';
      readonly field: 'gauge.stitchWidthMm';
      readonly value: number;
      readonly why: 'base';
      readonly roundHeightMm: number;
      readonly targetMm: number;
    }
  | {
      readonly code: 'too-coarse';
      readonly field: 'gauge.stitchWidthMm';
      readonly value: number;
      readonly why: 'net';
      readonly stitches: number;
    }
  | {
      /** The typed chains cannot reach around; `fits` is the count that does. */
      readonly code: 'cells-too-small';
      readonly field: 'choices.mesh.chains';
      readonly value: number;
      readonly fits: number;
    }
  | {
      /** A reading beyond three standard deviations: asked back, and taken when it is confirmed. */
      readonly code: 'unlikely-reading';
      readonly field: 'progress.measuredWidthMm' | 'progress.measuredHeightMm';
      readonly value: number;
      readonly expectedMm: number;
      readonly perhaps: 'radius' | 'doubled' | 'another round';
    };

/** Thrown inside the engine only; `planCarrier` and `replan` turn it into a result. */
export class RefusedInput extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(`${refusal.code}: ${refusal.field} = ${refusal.value}`);
    this.refusal = refusal;
  }
}

export function requireInRange(
  field: FieldOrSd,
  value: number,
  min: number,
  max: number,
  unit: '' | 'mm' | 'g' | 'm',
): void {
  if (Number.isFinite(value) && value >= min && value <= max) return;
  throw new RefusedInput({ code: 'out-of-range', field, value, allowed: { kind: 'range', min, max, unit } });
}

export function requireWhole(field: Field, value: number, min: number, max: number): void {
  if (Number.isInteger(value) && value >= min && value <= max) return;
  throw new RefusedInput({ code: 'out-of-range', field, value, allowed: { kind: 'whole', min, max } });
}

export function requireOneOf(field: Field, value: string, options: readonly string[]): void {
  if (options.includes(value)) return;
  throw new RefusedInput({ code: 'out-of-range', field, value, allowed: { kind: 'one-of', options } });
}

export function refuseInconsistent(field: Field, value: number | string | null, how: Inconsistency): never {
  throw new RefusedInput({ code: 'inconsistent', field, value, ...how });
}
