import type { WorkedRound } from '../base/base-candidates.ts';
import type { CarrierKind } from '../choices.ts';
import type { Container } from '../container.ts';
import { discWidth, gaugeAfterWidth } from '../follow/gauge-update.ts';
import type { Gauge } from '../gauge.ts';
import type { FitForecast } from '../plan.ts';
import { normalBetween } from './normal-distribution.ts';

/**
 * One demand on the finished carrier: the container's circumference over what the carrier is made for may differ from
 * the plan by a factor between `low` (looser) and `high` (tighter).
 */
export interface FitLimit {
  readonly where: string;
  readonly low: number;
  readonly high: number;
}

/** A ruler on a patted disc: common practice, no source. */
export const RULER_SD_MM = 1;

/**
 * Probability that all demands hold at once. One hand makes all parts and one photo measures all diameters, so the
 * same error applies everywhere and the demands are intersected.
 */
export function forecastFit(
  limits: readonly FitLimit[],
  container: Container,
  gauge: Gauge,
  discs: readonly (readonly WorkedRound[])[],
  carrier: CarrierKind,
): FitForecast {
  const low = limits.reduce((worst, limit) => (limit.low > worst.low ? limit : worst));
  const high = limits.reduce((worst, limit) => (limit.high < worst.high ? limit : worst));
  const lowLog = Math.log(low.low);
  const highLog = Math.log(high.high);
  const { baseDiameterMm, maxDiameterMm } = container;
  const measurementSd = Math.max(baseDiameterMm.sd / baseDiameterMm.value, maxDiameterMm.sd / maxDiameterMm.value);
  const gaugeSd = gauge.stitchWidthMm.sd / gauge.stitchWidthMm.value;
  const sd = Math.hypot(measurementSd, gaugeSd);
  const probabilityFits = normalBetween(0, sd, lowLog, highLog);
  const probabilityTooTight = normalBetween(0, sd, Math.max(highLog, lowLog), Number.POSITIVE_INFINITY);
  const bestCheck = bestCheckOf(discs, gauge, measurementSd, lowLog, highLog);
  const gaugeShare = sd === 0 ? 0 : (gaugeSd / sd) ** 2;
  return {
    probabilityFits,
    probabilityTooTight,
    probabilityTooLoose: Math.max(0, 1 - probabilityFits - probabilityTooTight),
    varianceShare: { gauge: gaugeShare, measurement: sd === 0 ? 0 : 1 - gaugeShare },
    bestCheck,
    tightest: high.where,
    holds: [low.low, high.high],
    message: forecastMessage({ probabilityFits, probabilityTooTight, gaugeShare, bestCheck, gauge, carrier }),
  };
}

/** The factor by which stitches may be smaller or larger than planned before a demand breaks. */
export function gaugeRoom(limits: readonly FitLimit[]): readonly [number, number] {
  const low = Math.max(...limits.map((limit) => limit.low));
  const high = Math.min(...limits.map((limit) => limit.high));
  return high > low ? [1 / high, 1 / low] : [1, 1];
}

function bestCheckOf(
  discs: readonly (readonly WorkedRound[])[],
  gauge: Gauge,
  measurementSd: number,
  lowLog: number,
  highLog: number,
): FitForecast['bestCheck'] {
  let best: FitForecast['bestCheck'] = null;
  for (const disc of discs) {
    const updated = gaugeAfterWidth(gauge, disc, discWidth(disc, gauge).value, RULER_SD_MM);
    const sd = Math.hypot(measurementSd, updated.stitchWidthMm.sd / updated.stitchWidthMm.value);
    const probabilityFits = normalBetween(0, sd, lowLog, highLog);
    // A later check must be worth the stitches ripped back for it.
    if (best === null || probabilityFits > best.probabilityFits + 0.02)
      best = { afterRound: disc.length, probabilityFits };
  }
  return best;
}

interface MessageFacts {
  readonly probabilityFits: number;
  readonly probabilityTooTight: number;
  readonly gaugeShare: number;
  readonly bestCheck: FitForecast['bestCheck'];
  readonly gauge: Gauge;
  readonly carrier: CarrierKind;
}

function forecastMessage(facts: MessageFacts): string {
  const { probabilityFits, probabilityTooTight, gaugeShare, bestCheck, gauge, carrier } = facts;
  const [tight, loose] = carrier === 'mat' ? ['too small', 'too large'] : ['too tight to go over', 'loose'];
  const risk = probabilityTooTight > (1 - probabilityFits) / 2 ? tight : loose;
  const source =
    gaugeShare > 0.6
      ? `Nearly all of the doubt (${inHundred(gaugeShare)}) is the gauge${gauge.origin === 'guess' ? ', which is only a guess' : ''}.`
      : gaugeShare < 0.4
        ? `Most of the doubt (${inHundred(1 - gaugeShare)}) is the size of the container.`
        : 'The doubt comes from the gauge and the size of the container alike.';
  const help =
    bestCheck && bestCheck.probabilityFits > probabilityFits + 0.02
      ? ` Measuring the base after round ${bestCheck.afterRound} and replanning brings it to ${inHundred(bestCheck.probabilityFits)}.`
      : '';
  return `Worked as written it fits in ${inHundred(probabilityFits)} cases; otherwise it is more likely ${risk}. ${source}${help}`;
}

function inHundred(share: number): string {
  return `${Math.min(99, Math.round(share * 100))} of 100`;
}
