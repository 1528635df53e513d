import type { Estimate } from '../../vision/estimate.ts';
import type { CornersPx, ImagePoint } from '../../vision/frames.ts';
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
  const { axisPx: _axis, ...measured } = result.measurement;
  return { ...common, outcome: 'measured', reason: null, ...measured };
}
