import type { Estimate } from '../estimate.ts';
import type { Problem } from '../measurement.ts';
import { type MeasuredRectangle, measureRectangle, type RectangleResult } from './measure-rectangle.ts';
import { sidesByRows } from './sides-by-rows.ts';
import { fabricThickness, type RowedWorkPhoto, type Thickness, type WorkRefusal } from './work-photo.ts';

/** A flat rectangular swatch. */
export interface MeasuredSwatch {
  /** Along the rows. */
  readonly widthMm: Estimate;
  /** Across the rows. */
  readonly heightMm: Estimate;
  readonly correlation: number;
  readonly thickness: Thickness;
  readonly rectangle: MeasuredRectangle;
}

export type SwatchResult =
  | { readonly outcome: 'measured'; readonly swatch: MeasuredSwatch; readonly warnings: readonly Problem[] }
  | WorkRefusal;

/** A swatch's typical width until it is measured, mm: only the guess of its thickness hangs on it. */
const TYPICAL_WIDTH_MM = 90;
const STRAIGHT_SHARE = 0.84;

/** Width and height of a flat swatch; rows run across the photo unless said otherwise. */
export function measureSwatch(input: RowedWorkPhoto): SwatchResult {
  const layer = (widthMm: number): Thickness =>
    fabricThickness(input.thicknessMm, input.stitches ? widthMm / input.stitches : null);
  const measure = (thickness: Thickness): RectangleResult =>
    measureRectangle({ ...input, thickness, straightShare: STRAIGHT_SHARE });
  const first = measure(layer(TYPICAL_WIDTH_MM));
  if (first.outcome === 'refused') return first;
  const thickness = layer(sidesByRows(first.rectangle, input.rowsRun).alongRowsMm.value);
  const result = input.stitches && input.thicknessMm === undefined ? measure(thickness) : first;
  if (result.outcome === 'refused') return result;
  const { alongRowsMm, acrossRowsMm, correlation, warnings } = sidesByRows(result.rectangle, input.rowsRun);
  return {
    outcome: 'measured',
    swatch: { widthMm: alongRowsMm, heightMm: acrossRowsMm, correlation, thickness, rectangle: result.rectangle },
    warnings: [...result.warnings, ...warnings],
  };
}
