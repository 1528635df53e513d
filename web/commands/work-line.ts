import type { Estimate } from '../../vision/estimate.ts';
import type { WorkPiece, WorkResult } from '../../vision/flat-piece/measure-work.ts';
import { gaugeFromDisc, gaugeFromSwatch, type ValueSd, type WorkGauge } from '../../vision/flat-piece/work-gauge.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Problem } from '../../vision/measurement.ts';

/** What `check-work --json` prints; its JSON Schema is work-line.schema.json. */
export interface WorkLine {
  readonly photo: string;
  readonly piece: WorkPiece;
  readonly outcome: 'measured' | 'refused';
  readonly reason: Problem | null;
  readonly card: { readonly cornersPx: CornersPx | null; readonly reference: string };
  readonly disc: WorkDisc | null;
  readonly swatch: { readonly widthMm: Estimate; readonly heightMm: Estimate; readonly skewRad: number } | null;
  readonly tube: { readonly widthMm: Estimate; readonly lengthMm: Estimate; readonly aroundMm: Estimate } | null;
  /** Of one layer of the fabric, typed or guessed; null when refused. */
  readonly thicknessMm: ValueSd | null;
  /** Null when rounds and stitches were not typed, and for a tube. */
  readonly gauge: WorkGauge | null;
  readonly warnings: readonly Problem[];
  readonly edgePx: readonly ImagePoint[];
  readonly elapsedMs: number;
}

interface WorkDisc {
  readonly meanDiameterMm: Estimate;
  readonly outOfRoundness: Estimate;
  readonly scallopMm: number;
}

/** Counts typed by the maker. */
export interface Counts {
  readonly rounds?: number;
  readonly stitches?: number;
}

export interface WorkLineInput {
  readonly photo: string;
  readonly result: WorkResult;
  readonly counts: Counts;
  readonly reference: string;
  readonly cornersPx: CornersPx | null;
  readonly elapsedMs: number;
}

export function workLine({ photo, result, counts, reference, cornersPx, elapsedMs }: WorkLineInput): WorkLine {
  const line: WorkLine = {
    photo,
    piece: result.piece,
    outcome: result.outcome,
    reason: null,
    card: { cornersPx, reference },
    disc: null,
    swatch: null,
    tube: null,
    thicknessMm: thicknessOf(result),
    gauge: gaugeOf(result, counts),
    warnings: [],
    edgePx: [],
    elapsedMs: Math.round(elapsedMs),
  };
  if (result.outcome === 'refused') {
    return {
      ...line,
      reason: result.reason,
      card: { cornersPx: result.found.cornersPx, reference },
      edgePx: result.found.edgePx ?? [],
    };
  }
  const { warnings } = result;
  if (result.piece === 'disc') {
    const { meanDiameterMm, outOfRoundness, scallopMm, edgePx } = result.disc;
    return { ...line, warnings, disc: { meanDiameterMm, outOfRoundness, scallopMm }, edgePx };
  }
  if (result.piece === 'swatch') {
    const { widthMm, heightMm, rectangle } = result.swatch;
    return {
      ...line,
      warnings,
      swatch: { widthMm, heightMm, skewRad: rectangle.skewRad },
      edgePx: rectangle.edgePx,
    };
  }
  const { widthMm, lengthMm, aroundMm, rectangle } = result.tube;
  return { ...line, warnings, tube: { widthMm, lengthMm, aroundMm }, edgePx: rectangle.edgePx };
}

function thicknessOf(result: WorkResult): ValueSd | null {
  if (result.outcome === 'refused') return null;
  const piece = result.piece === 'disc' ? result.disc : result.piece === 'swatch' ? result.swatch : result.tube;
  return { value: piece.thickness.valueMm, sd: piece.thickness.sdMm };
}

function gaugeOf(result: WorkResult, { rounds, stitches }: Counts): WorkGauge | null {
  if (result.outcome === 'refused' || !rounds || !stitches) return null;
  if (result.piece === 'disc') return gaugeFromDisc(result.disc, rounds, stitches);
  if (result.piece === 'swatch') return gaugeFromSwatch(result.swatch, rounds, stitches);
  return null;
}
