import type { Estimate } from '../../vision/estimate.ts';
import { measureDisc } from '../../vision/work/measure-disc.ts';
import { measureSwatch } from '../../vision/work/measure-swatch.ts';
import { measureTube } from '../../vision/work/measure-tube.ts';
import { gaugeFromDisc, gaugeFromSwatch, type ValueSd } from '../../vision/work/work-gauge.ts';
import { type CardSource, photographed, randomDisc, randomRectangle } from './flat-work-cases.ts';
import type { FlatWorkPicture } from './flat-work-pictures.ts';

/** One measured size against its truth. */
export interface SizeScore {
  readonly errorPct: number;
  /** Error over standard uncertainty. */
  readonly sds: number;
}

export interface CaseScore {
  readonly seed: number;
  readonly refused: string | null;
  readonly sizes: readonly SizeScore[];
  /** Stitch width and round height against the hand that made the work. */
  readonly gauge: readonly SizeScore[];
}

/** A tenth of what phones take: whatever holds here holds for the full size, and the study ends in reasonable time. */
const IMAGE_SIZE_PX = [800, 600] as const;

export function scoreDisc(seed: number, source: CardSource = 'refined'): CaseScore {
  const { disc, hand } = randomDisc(seed);
  const { input } = photographed(disc, seed, IMAGE_SIZE_PX, source);
  const result = measureDisc({ ...input, stitches: disc.stitches });
  if (result.outcome === 'refused') return { seed, refused: result.reason.code, sizes: [], gauge: [] };
  const gauge = gaugeFromDisc(result.disc, disc.rounds, disc.stitches);
  return {
    seed,
    refused: null,
    sizes: [score(result.disc.meanDiameterMm, disc.meanDiameterMm)],
    gauge: [score(gauge.stitchWidthMm, hand.stitchWidthMm), score(gauge.roundHeightMm, hand.roundHeightMm)],
  };
}

export function scoreSwatch(seed: number, source: CardSource = 'refined'): CaseScore {
  const { work, hand } = randomRectangle(seed, 'swatch');
  const { picture, input } = photographed(work, seed, IMAGE_SIZE_PX, source);
  const result = measureSwatch({ ...input, stitches: work.stitches, rowsRun: rowsRun(picture) });
  if (result.outcome === 'refused') return { seed, refused: result.reason.code, sizes: [], gauge: [] };
  const gauge = gaugeFromSwatch(result.swatch, work.rows, work.stitches);
  return {
    seed,
    refused: null,
    sizes: [score(result.swatch.widthMm, work.widthMm), score(result.swatch.heightMm, work.lengthMm)],
    gauge: [score(gauge.stitchWidthMm, hand.stitchWidthMm), score(gauge.roundHeightMm, hand.roundHeightMm)],
  };
}

export function scoreTube(seed: number, source: CardSource = 'refined'): CaseScore {
  const { work } = randomRectangle(seed, 'tube');
  const { picture, input } = photographed(work, seed, IMAGE_SIZE_PX, source);
  const result = measureTube({ ...input, stitches: 2 * work.stitches, rowsRun: rowsRun(picture) });
  if (result.outcome === 'refused') return { seed, refused: result.reason.code, sizes: [], gauge: [] };
  return {
    seed,
    refused: null,
    sizes: [score(result.tube.widthMm, work.widthMm), score(result.tube.lengthMm, work.lengthMm)],
    gauge: [],
  };
}

/** What the maker sees and would say: the direction of the rows in the photo. */
export function rowsRun({ outlinePx }: FlatWorkPicture): 'across' | 'up' {
  const [x0, y0] = outlinePx[0];
  const [x1, y1] = outlinePx[outlinePx.length / 2];
  return Math.abs(x1 - x0) > Math.abs(y1 - y0) ? 'across' : 'up';
}

export interface Summary {
  readonly n: number;
  readonly refused: number;
  readonly medianAbsPct: number;
  readonly p90AbsPct: number;
  readonly worstAbsPct: number;
  readonly coverage95: number;
  readonly rmsSds: number;
}

export function summarise(scores: readonly SizeScore[], refused: number): Summary {
  const absolute = scores.map(({ errorPct }) => Math.abs(errorPct)).sort((a, b) => a - b);
  const at = (share: number): number => absolute[Math.min(absolute.length - 1, Math.floor(share * absolute.length))];
  return {
    n: scores.length,
    refused,
    medianAbsPct: at(0.5),
    p90AbsPct: at(0.9),
    worstAbsPct: absolute[absolute.length - 1],
    coverage95: scores.filter(({ sds }) => Math.abs(sds) <= 1.96).length / scores.length,
    rmsSds: Math.sqrt(scores.reduce((sum, { sds }) => sum + sds * sds, 0) / scores.length),
  };
}

function score(measured: Estimate | ValueSd, truth: number): SizeScore {
  return { errorPct: (measured.value / truth - 1) * 100, sds: (measured.value - truth) / measured.sd };
}
