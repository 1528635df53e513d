import type { WorkedRound } from '../base/base-candidates.ts';
import { reachOfRoundsMm } from '../base/base-candidates.ts';
import { widthAcrossMm } from '../base/flat-circle.ts';
import type { Gauge } from '../gauge.ts';

/**
 * How well the width of a disc is known from its rounds even with the gauge exact: the hole in the middle is worth a
 * share of a round height, patting flat less than one per cent (common practice, no source).
 */
const CENTRE_SHARE = 0.08;
const PATTING_RELATIVE_SD = 0.007;

/** Predicted width across of a disc of these rounds, with the gauge's and the model's uncertainty. */
export function discWidth(rounds: readonly WorkedRound[], gauge: Gauge): { value: number; sd: number } {
  const value = predictedWidthMm(rounds, gauge);
  const { width, height, covariance } = logCovariance(gauge);
  const gaugeVariance = (width + height + 2 * covariance) / 4;
  return { value, sd: value * Math.sqrt(gaugeVariance + modelVariance(value, gauge)) };
}

/**
 * The gauge after measuring a disc across. The logarithm of the width is half that of the stitch width plus half that
 * of the round height, so this is one linear update of two jointly normal variables (Kalman; JCGM 100 for the
 * weights): prior and reading are weighted by their uncertainties.
 */
export function gaugeAfterWidth(
  gauge: Gauge,
  rounds: readonly WorkedRound[],
  measuredWidthMm: number,
  sdMm: number,
): Gauge {
  const predictedMm = predictedWidthMm(rounds, gauge);
  const { width, height, covariance } = logCovariance(gauge);
  const noise = (sdMm / measuredWidthMm) ** 2 + modelVariance(predictedMm, gauge);
  const widthWithDisc = (width + covariance) / 2;
  const heightWithDisc = (height + covariance) / 2;
  const total = (widthWithDisc + heightWithDisc) / 2 + noise;
  const surprise = Math.log(measuredWidthMm / predictedMm);
  const newWidth = Math.max(0, width - widthWithDisc ** 2 / total);
  const newHeight = Math.max(0, height - heightWithDisc ** 2 / total);
  const newCovariance = covariance - (widthWithDisc * heightWithDisc) / total;
  const widthMm = gauge.stitchWidthMm.value * Math.exp((widthWithDisc / total) * surprise);
  const heightMm = gauge.roundHeightMm.value * Math.exp((heightWithDisc / total) * surprise);
  return {
    ...gauge,
    origin: 'measured',
    stitchWidthMm: { value: widthMm, sd: widthMm * Math.sqrt(newWidth) },
    roundHeightMm: { value: heightMm, sd: heightMm * Math.sqrt(newHeight) },
    correlation: correlationOf(newWidth, newHeight, newCovariance),
  };
}

/** The gauge after measuring a solid tube laid flat: half its stitches lie across. Only the stitch width is seen. */
export function gaugeAfterWallWidth(gauge: Gauge, stitches: number, measuredWidthMm: number, sdMm: number): Gauge {
  const { width, height, covariance } = logCovariance(gauge);
  const total = width + (sdMm / measuredWidthMm) ** 2 + PATTING_RELATIVE_SD ** 2;
  const surprise = Math.log((2 * measuredWidthMm) / (stitches * gauge.stitchWidthMm.value));
  const newWidth = Math.max(0, width - width ** 2 / total);
  const newHeight = Math.max(0, height - covariance ** 2 / total);
  const widthMm = gauge.stitchWidthMm.value * Math.exp((width / total) * surprise);
  const heightMm = gauge.roundHeightMm.value * Math.exp((covariance / total) * surprise);
  return {
    ...gauge,
    origin: 'measured',
    stitchWidthMm: { value: widthMm, sd: widthMm * Math.sqrt(newWidth) },
    roundHeightMm: { value: heightMm, sd: heightMm * Math.sqrt(newHeight) },
    correlation: correlationOf(newWidth, newHeight, covariance - (width * covariance) / total),
  };
}

function predictedWidthMm(rounds: readonly WorkedRound[], gauge: Gauge): number {
  const { stitches } = rounds[rounds.length - 1];
  return widthAcrossMm(stitches, gauge.stitchWidthMm.value, reachOfRoundsMm(rounds, gauge));
}

/** Variances and covariance of ln(stitch width) and ln(round height). */
function logCovariance(gauge: Gauge): { width: number; height: number; covariance: number } {
  const width = gauge.stitchWidthMm.sd / gauge.stitchWidthMm.value;
  const height = gauge.roundHeightMm.sd / gauge.roundHeightMm.value;
  return { width: width ** 2, height: height ** 2, covariance: gauge.correlation * width * height };
}

function modelVariance(widthMm: number, gauge: Gauge): number {
  return ((CENTRE_SHARE * gauge.roundHeightMm.value) / widthMm) ** 2 + PATTING_RELATIVE_SD ** 2;
}

function correlationOf(width: number, height: number, covariance: number): number {
  if (width === 0 || height === 0) return 0;
  return Math.max(-0.99, Math.min(1, covariance / (Math.sqrt(width) * Math.sqrt(height))));
}
