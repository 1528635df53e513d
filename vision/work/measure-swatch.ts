import type { Estimate } from '../estimate.ts';
import type { Problem } from '../measurement.ts';
import { type MeasuredRectangle, measureRectangle, type RectangleResult } from './measure-rectangle.ts';
import { sidesByRows } from './sides-by-rows.ts';
import { fabricThickness, type RowedWorkPhoto, type WorkRefusal } from './work-photo.ts';

/** A flat rectangular swatch. */
export interface MeasuredSwatch {
  /** Along the rows. */
  readonly widthMm: Estimate;
  /** Across the rows. */
  readonly heightMm: Estimate;
  readonly correlation: number;
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
  const measure = (widthMm: number): RectangleResult =>
    measureRectangle({
      ...input,
      thickness: fabricThickness(input.thicknessMm, input.stitches ? widthMm / input.stitches : null),
      straightShare: STRAIGHT_SHARE,
    });
  const first = measure(TYPICAL_WIDTH_MM);
  if (first.outcome === 'refused') return first;
  const roughWidthMm = sidesByRows(first.rectangle, input.rowsRun).alongRowsMm.value;
  const result = input.stitches && input.thicknessMm === undefined ? measure(roughWidthMm) : first;
  if (result.outcome === 'refused') return result;
  const { alongRowsMm, acrossRowsMm, correlation, warnings } = sidesByRows(result.rectangle, input.rowsRun);
  return {
    outcome: 'measured',
    swatch: { widthMm: alongRowsMm, heightMm: acrossRowsMm, correlation, rectangle: result.rectangle },
    warnings: [...result.warnings, ...warnings],
  };
}
