import type { Estimate } from '../../vision/estimate.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Arrangement, ContainerFeatures, MeasureResult, Problem, ProfilePoint } from '../../vision/measurement.ts';

/** One line of `measure --json`; its JSON Schema is measure-line.schema.json. */
export interface MeasureLine {
  readonly photo: string;
  readonly outcome: 'measured' | 'refused';
  readonly reason: Problem | null;
  readonly arrangement: Arrangement | null;
  readonly card: { readonly cornersPx: CornersPx | null; readonly reference: string };
  readonly baseDiameterMm: Estimate | null;
  readonly maxDiameterMm: Estimate | null;
  readonly heightMm: Estimate | null;
  readonly capacityMl: Estimate | null;
  readonly profile: readonly ProfilePoint[];
  readonly features: ContainerFeatures | null;
  readonly focalLengthPx: Estimate | null;
  readonly warnings: readonly Problem[];
  readonly outlinePx: readonly ImagePoint[];
  readonly elapsedMs: number;
  /** Only with --same-container: this line is what several photos say together. */
  readonly together?: Together;
}

/** How the photos of one container go together. */
export interface Together {
  readonly photos: readonly {
    readonly photo: string;
    readonly used: boolean;
    readonly reason: Problem | null;
    readonly baseDiameterMm: Estimate | null;
    readonly maxDiameterMm: Estimate | null;
    readonly heightMm: Estimate | null;
  }[];
  /** Widest diameter and height of the photos used, about their common mean. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly probability: number;
  /** Standard uncertainty together over that of the surest photo alone. */
  readonly gain: { readonly maxDiameterMm: number; readonly heightMm: number };
}

export function measureLine(photo: string, result: MeasureResult, reference: string, elapsedMs: number): MeasureLine {
  const common = { photo, warnings: result.warnings, elapsedMs: Math.round(elapsedMs) };
  if (result.outcome === 'refused') {
    return {
      ...common,
      outcome: 'refused',
      reason: result.reason,
      arrangement: null,
      card: { cornersPx: result.found.cornersPx, reference },
      baseDiameterMm: null,
      maxDiameterMm: null,
      heightMm: null,
      capacityMl: null,
      profile: [],
      features: null,
      focalLengthPx: null,
      outlinePx: result.found.outlinePx ?? [],
    };
  }
  const { axisPx: _axis, view: _view, ...measured } = result.measurement;
  return { ...common, outcome: 'measured', reason: null, ...measured };
}
