import { type Estimate, estimate } from '../estimate.ts';
import type { Problem } from '../measurement.ts';
import { type MeasuredRectangle, measureRectangle, type RectangleResult } from './measure-rectangle.ts';
import { sidesByRows } from './sides-by-rows.ts';
import { fabricThickness, type RowedWorkPhoto, type Thickness, type WorkRefusal } from './work-photo.ts';

/** A tube in progress, laid flat. */
export interface MeasuredTube {
  /** Across the flattened tube, between the mean lines of its folds. */
  readonly widthMm: Estimate;
  /** From the closed end to the open edge. */
  readonly lengthMm: Estimate;
  /** All the way round, through the middle of the fabric. */
  readonly aroundMm: Estimate;
  readonly correlation: number;
  /** Of one layer. */
  readonly thickness: Thickness;
  readonly rectangle: MeasuredRectangle;
}

export type TubeResult =
  | { readonly outcome: 'measured'; readonly tube: MeasuredTube; readonly warnings: readonly Problem[] }
  | WorkRefusal;

const TYPICAL_AROUND_MM = 220;
/** The base folded in half rounds off the closed end. */
const STRAIGHT_SHARE = 0.5;

/** Width and length of a tube laid flat. `thicknessMm` of the input is that of one layer. */
export function measureTube(input: RowedWorkPhoto): TubeResult {
  const layer = (aroundMm: number): Thickness =>
    fabricThickness(input.thicknessMm, input.stitches ? aroundMm / input.stitches : null);
  const measure = ({ valueMm, sdMm }: Thickness): RectangleResult =>
    measureRectangle({
      ...input,
      thickness: { valueMm: 2 * valueMm, sdMm: 2 * sdMm },
      straightShare: STRAIGHT_SHARE,
    });
  const first = measure(layer(TYPICAL_AROUND_MM));
  if (first.outcome === 'refused') return first;
  const thickness = layer(2 * sidesByRows(first.rectangle, input.rowsRun).alongRowsMm.value);
  const result = measure(thickness);
  if (result.outcome === 'refused') return result;
  const { alongRowsMm, acrossRowsMm, correlation, warnings } = sidesByRows(result.rectangle, input.rowsRun);
  return {
    outcome: 'measured',
    tube: {
      widthMm: alongRowsMm,
      lengthMm: acrossRowsMm,
      aroundMm: around(alongRowsMm, thickness),
      correlation,
      thickness,
      rectangle: result.rectangle,
    },
    warnings: [...result.warnings, ...warnings],
  };
}

/**
 * Two straight layers and two half-round folds: with layers of thickness t the middle of the fabric runs
 * 2 (W − 2 t) + π t (derived).
 */
function around(widthMm: Estimate, { valueMm, sdMm }: Thickness): Estimate {
  const byThickness = Math.PI - 4;
  return estimate(2 * widthMm.value + byThickness * valueMm, Math.hypot(2 * widthMm.sd, byThickness * sdMm));
}
