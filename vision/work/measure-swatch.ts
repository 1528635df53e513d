import type { Estimate } from '../estimate.ts';
import { type Problem, problem } from '../measurement.ts';
import { type MeasuredRectangle, measureRectangle, type RectangleResult } from './measure-rectangle.ts';
import { fabricThickness, type RowDirection, type RowedWorkPhoto, type WorkRefusal } from './work-photo.ts';

export type { RowDirection } from './work-photo.ts';

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
  const rowsRun = input.rowsRun ?? 'across';
  const measure = (widthMm: number): RectangleResult =>
    measureRectangle({
      ...input,
      thickness: fabricThickness(input.thicknessMm, input.stitches ? widthMm / input.stitches : null),
      straightShare: STRAIGHT_SHARE,
    });
  const first = measure(TYPICAL_WIDTH_MM);
  if (first.outcome === 'refused') return first;
  const roughWidthMm = along(first.rectangle, rowsRun).value;
  const result = input.stitches && input.thicknessMm === undefined ? measure(roughWidthMm) : first;
  if (result.outcome === 'refused') return result;
  const { rectangle } = result;
  return {
    outcome: 'measured',
    swatch: {
      widthMm: along(rectangle, rowsRun),
      heightMm: along(rectangle, rowsRun === 'across' ? 'up' : 'across'),
      correlation: rectangle.correlation,
      rectangle,
    },
    warnings: directionWarnings(result, input.rowsRun),
  };
}

/** Size of a rectangle along a direction of the photo. */
export function along(rectangle: MeasuredRectangle, direction: RowDirection): Estimate {
  return direction === 'across' ? rectangle.acrossMm : rectangle.upMm;
}

/** The warnings of a measurement, and one more when nobody can say which way the rows run. */
export function directionWarnings(
  result: Extract<RectangleResult, { outcome: 'measured' }>,
  rowsRun: RowDirection | undefined,
): readonly Problem[] {
  if (rowsRun !== undefined || !result.rectangle.liesDiagonally) return result.warnings;
  return [...result.warnings, problem('work-lies-diagonally')];
}
