import type { WorkedRound } from '../base/base-candidates.ts';
import type { Container } from '../container.ts';
import { discWidth, gaugeAfterWidth } from '../follow/gauge-update.ts';
import type { Gauge } from '../gauge.ts';
import type { FitForecast, FitPlace, FitVerdict } from '../plan.ts';
import { normalBetween } from './normal-distribution.ts';

/**
 * One demand on the finished carrier: the container's circumference over what the carrier is made for may differ from
 * the plan by a factor between `low` (looser) and `high` (tighter).
 */
export interface FitLimit {
  readonly where: FitPlace;
  readonly low: number;
  readonly high: number;
}

/** How much likelier a fit must get for a check to be made a round later: common practice, no source. */
const LATER_CHECK_GAIN = 0.05;

/** A ruler on a patted disc: common practice, no source. */
export const RULER_SD_MM = 1;

/**
 * Probability that all demands hold at once; what is both too tight and too loose counts as too tight. One hand makes all parts and one photo measures all diameters, so the
 * same error applies everywhere and the demands are intersected.
 */
export function forecastFit(
  limits: readonly FitLimit[],
  container: Container,
  gauge: Gauge,
  discs: readonly (readonly WorkedRound[])[],
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
  const probabilityTooTight = normalBetween(0, sd, highLog, Number.POSITIVE_INFINITY);
  const bestCheck = bestCheckOf(discs, gauge, measurementSd, lowLog, highLog);
  const gaugeShare = sd === 0 ? 0 : (gaugeSd / sd) ** 2;
  const probabilityTooLoose = Math.max(0, 1 - probabilityFits - probabilityTooTight);
  const tooTight = probabilityTooTight >= probabilityTooLoose;
  return {
    probabilityFits,
    probabilityTooTight,
    probabilityTooLoose,
    varianceShare: { gauge: gaugeShare, measurement: sd === 0 ? 0 : 1 - gaugeShare },
    bestCheck,
    tightest: high.where,
    loosest: low.where,
    holds: [low.low, high.high],
    verdict: verdictOn({
      isGuess: gauge.origin === 'guess',
      probabilityFits,
      bestCheck,
      problem: tooTight ? 'too tight' : 'too loose',
      where: tooTight ? high.where : low.where,
    }),
  };
}

/** A fit this likely is promised; one below half is not, and the plan says what to change: common practice, no source. */
const PROMISED = 0.85;
const DOUBTED = 0.5;

interface Odds {
  readonly isGuess: boolean;
  readonly probabilityFits: number;
  readonly bestCheck: FitForecast['bestCheck'];
  readonly problem: 'too tight' | 'too loose';
  readonly where: FitPlace;
}

function verdictOn({ isGuess, probabilityFits, bestCheck, problem, where }: Odds): FitVerdict {
  const checked = Math.max(probabilityFits, bestCheck?.probabilityFits ?? 0);
  if (checked < DOUBTED) return { kind: 'unlikely', problem, where };
  if (isGuess && bestCheck) {
    return { kind: 'check-first', afterRound: bestCheck.afterRound, thenFits: bestCheck.probabilityFits };
  }
  if (probabilityFits >= PROMISED) return { kind: 'fits' };
  const helps = bestCheck !== null && bestCheck.probabilityFits > probabilityFits + LATER_CHECK_GAIN;
  return { kind: 'likely', afterRound: helps ? bestCheck.afterRound : null };
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
    // A later check must be worth the stitches ripped back for it: simulated makers rip after round 3, not after 2.
    if (best === null || probabilityFits > best.probabilityFits + LATER_CHECK_GAIN)
      best = { afterRound: disc.length, probabilityFits };
  }
  return best;
}
