import { type Estimate, estimate } from '../estimate.ts';
import { type Problem, problem } from '../measurement.ts';
import type { MeasuredRectangle } from './measure-rectangle.ts';
import type { RowDirection } from './work-photo.ts';

/** The sides of a piece as its rows tell them apart. */
export interface SidesByRows {
  readonly alongRowsMm: Estimate;
  readonly acrossRowsMm: Estimate;
  readonly correlation: number;
  readonly warnings: readonly Problem[];
}

/** Sides that differ by fewer standard deviations than this may be the other way round. */
const CLEARLY_LONGER_SDS = 2;

/**
 * Which side runs along the rows. Where what was said fits both ways, each side may have either length: a distribution
 * of two equal points (mean half-way, sd half the difference) widens both, and the maker is asked.
 */
export function sidesByRows(rectangle: MeasuredRectangle, rowsRun: RowDirection = 'across'): SidesByRows {
  const { acrossMm, upMm, correlation } = rectangle;
  const bySize = rowsRun === 'longer' || rowsRun === 'shorter';
  const isAcrossAlong = bySize ? acrossMm.value > upMm.value === (rowsRun === 'longer') : rowsRun === 'across';
  const [along, across] = isAcrossAlong ? [acrossMm, upMm] : [upMm, acrossMm];
  const fitsBothWays = bySize ? !isClearlyLonger(rectangle) : rectangle.liesDiagonally;
  if (!fitsBothWays) return { alongRowsMm: along, acrossRowsMm: across, correlation, warnings: [] };
  const half = (along.value - across.value) / 2;
  const either = estimate((along.value + across.value) / 2, Math.hypot(half, along.sd, across.sd));
  return {
    alongRowsMm: either,
    acrossRowsMm: either,
    correlation: (correlation * along.sd * across.sd - half * half) / either.sd ** 2,
    warnings: bySize ? [] : [problem('work-lies-diagonally')],
  };
}

function isClearlyLonger({ acrossMm: a, upMm: b, correlation }: MeasuredRectangle): boolean {
  const sd = Math.sqrt(a.sd ** 2 + b.sd ** 2 - 2 * correlation * a.sd * b.sd);
  return Math.abs(a.value - b.value) > CLEARLY_LONGER_SDS * sd;
}
