import type { Estimate } from '../../vision/estimate.ts';
import { measureWork, type WorkResult } from '../../vision/flat-piece/measure-work.ts';
import { gaugeFromDisc, gaugeFromSwatch, type ValueSd, type WorkGauge } from '../../vision/flat-piece/work-gauge.ts';
import type { RowDirection } from '../../vision/flat-piece/work-photo.ts';
import type { Engine } from '../../vision/measure-photo.ts';
import { type Hand, photographed, randomDisc, randomRectangle } from './flat-work-cases.ts';
import type { FlatWorkPicture } from './flat-work-pictures.ts';
import { outOfRoundnessOf, type RectangleSpec } from './flat-work-shapes.ts';

/** One measured size against its truth. */
export interface SizeScore {
  readonly errorPct: number;
  /** Error over standard uncertainty. */
  readonly sds: number;
  /** The 95 % interval holds the truth. */
  readonly isInside: boolean;
}

export interface CaseScore {
  readonly seed: number;
  readonly refused: string | null;
  readonly sizes: readonly SizeScore[];
  /** Stitch width and round height against the hand that made the work. */
  readonly gauge: readonly SizeScore[];
  /** Of a disc; its errors are in percent of the diameter. */
  readonly outOfRoundness: readonly SizeScore[];
  /** The first answer, where the work lies diagonally and the maker was asked which side runs along the rows. */
  readonly beforeAsking: readonly SizeScore[];
}

/** A made-up photo of a disc, measured from nothing but its pixels and the count of stitches. */
export function scoreDisc(engine: Engine, seed: number): CaseScore {
  const { disc, hand } = randomDisc(seed);
  const { photo } = photographed(disc, seed);
  const result = measureWork(engine, photo, 'disc', { stitches: disc.stitches });
  if (result.outcome === 'refused' || result.piece !== 'disc') return refusedCase(seed, result);
  const { meanDiameterMm, outOfRoundness } = result.disc;
  const trueOval = outOfRoundnessOf(disc);
  return {
    seed,
    refused: null,
    sizes: [score(meanDiameterMm, disc.meanDiameterMm)],
    gauge: gaugeScores(gaugeFromDisc(result.disc, disc.rounds, disc.stitches), hand),
    outOfRoundness: [{ ...score(outOfRoundness, trueOval), errorPct: 100 * (outOfRoundness.value - trueOval) }],
    beforeAsking: [],
  };
}

export function scoreSwatch(engine: Engine, seed: number): CaseScore {
  return scoreRectangle(engine, seed, 'swatch');
}

export function scoreTube(engine: Engine, seed: number): CaseScore {
  return scoreRectangle(engine, seed, 'tube');
}

/** The maker says how the rows run in the photo, and along which side when she is asked. */
function scoreRectangle(engine: Engine, seed: number, kind: 'swatch' | 'tube'): CaseScore {
  const { work, hand } = randomRectangle(seed, kind);
  const picture = photographed(work, seed);
  const stitches = kind === 'tube' ? 2 * work.stitches : work.stitches;
  const answer = (rowsRun: RowDirection) => measureWork(engine, picture.photo, kind, { stitches, rowsRun });
  const first = answer(rowsRun(picture));
  const asks = first.outcome === 'measured' && first.warnings.some(({ code }) => code === 'work-lies-diagonally');
  const result = asks ? answer(work.widthMm > work.lengthMm ? 'longer' : 'shorter') : first;
  if (result.outcome === 'refused') return refusedCase(seed, result);
  return {
    seed,
    refused: null,
    sizes: sideScores(result, work),
    gauge: result.piece === 'swatch' ? gaugeScores(gaugeFromSwatch(result.swatch, work.rows, work.stitches), hand) : [],
    outOfRoundness: [],
    beforeAsking: asks ? sideScores(first, work) : [],
  };
}

function sideScores(result: WorkResult, work: RectangleSpec): SizeScore[] {
  if (result.outcome === 'refused' || result.piece === 'disc') return [];
  const [widthMm, lengthMm] =
    result.piece === 'swatch'
      ? [result.swatch.widthMm, result.swatch.heightMm]
      : [result.tube.widthMm, result.tube.lengthMm];
  return [score(widthMm, work.widthMm), score(lengthMm, work.lengthMm)];
}

function gaugeScores(gauge: WorkGauge, hand: Hand): SizeScore[] {
  return [score(gauge.stitchWidthMm, hand.stitchWidthMm), score(gauge.roundHeightMm, hand.roundHeightMm)];
}

function refusedCase(seed: number, result: WorkResult): CaseScore {
  const refused = result.outcome === 'refused' ? result.reason.code : null;
  return { seed, refused, sizes: [], gauge: [], outOfRoundness: [], beforeAsking: [] };
}

/** What the maker sees and would say: the direction of the rows in the photo. */
export function rowsRun({ outlinePx }: FlatWorkPicture): 'across' | 'up' {
  const [x0, y0] = outlinePx[0];
  const [x1, y1] = outlinePx[outlinePx.length / 2];
  return Math.abs(x1 - x0) > Math.abs(y1 - y0) ? 'across' : 'up';
}

export interface Summary {
  readonly n: number;
  readonly medianAbsPct: number;
  readonly p90AbsPct: number;
  readonly worstAbsPct: number;
  readonly coverage95: number;
  readonly rmsSds: number;
}

export function summarise(scores: readonly SizeScore[]): Summary {
  const absolute = scores.map(({ errorPct }) => Math.abs(errorPct)).sort((a, b) => a - b);
  const at = (share: number): number => absolute[Math.min(absolute.length - 1, Math.floor(share * absolute.length))];
  return {
    n: scores.length,
    medianAbsPct: at(0.5),
    p90AbsPct: at(0.9),
    worstAbsPct: absolute[absolute.length - 1],
    coverage95: scores.filter(({ isInside }) => isInside).length / scores.length,
    rmsSds: Math.sqrt(scores.reduce((sum, { sds }) => sum + sds * sds, 0) / scores.length),
  };
}

function score(measured: Estimate | ValueSd, truth: number): SizeScore {
  const sds = (measured.value - truth) / measured.sd;
  const isInside = 'low95' in measured ? measured.low95 <= truth && truth <= measured.high95 : Math.abs(sds) <= 1.96;
  return { errorPct: (measured.value / truth - 1) * 100, sds, isInside };
}
