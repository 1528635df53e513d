import { cordStitchMm } from '../body/strap.ts';
import type { Estimate } from '../estimate.ts';
import { chainLengthMm, type Gauge } from '../gauge.ts';
import type { StrapPlan, YarnNeed } from '../plan.ts';
import {
  CHAIN_YARN_OVER_LENGTH,
  FABRIC_STITCHES,
  SLIP_YARN_OVER_WIDTH,
  STITCH_FACTS,
  YARN_RELATIVE_SD,
} from '../stitches.ts';
import { normalBelow } from './normal-distribution.ts';
import type { Tally } from './tally.ts';

/** A starting and an ending tail of 15 cm each (common practice). */
const TAILS_MM = 300;

/** Yarn per length of cord: 13 (10-16) from two proxies, no direct source (derived). */
const CORD_YARN_OVER_LENGTH = 13;
const CORD_RELATIVE_SD = 0.13;

/** What is left of the uncertainty when the yarn in a stitch was unravelled or weighed (common practice: 2 %; tension 3 %). */
const CALIBRATED_RELATIVE_SD = 0.04;

/** Waste, frogging and a spare length: 10 % (common practice). */
const ALLOWANCE = 1.1;

/** Buy as many balls as make it this likely that they suffice. */
const WANTED_PROBABILITY = 0.95;

/** Metres of yarn in a part, all strands counted, tails included: one pair, or more where pieces are sewn on. */
export function yarnMetres(tally: Tally, gauge: Gauge, tailsMm = TAILS_MM): Estimate {
  const fabricMm = fabricPathMm(tally, gauge) * calibration(gauge);
  const cordMm = cordPathMm(tally, gauge);
  const strands = gauge.strands / 1000;
  return {
    value: (fabricMm + cordMm + tailsMm) * strands,
    sd: Math.hypot(fabricMm * fabricRelativeSd(gauge), cordMm * cordRelativeSd(gauge)) * strands,
  };
}

/** Tails of a strap: two on each cord for sewing; one to start and one to sew on each tab, which has no cord of its own. */
export function strapTailsMm({ pieces, tailMm, tab, at }: StrapPlan): number {
  return pieces * 2 * tailMm + (tab ? at.length * (TAILS_MM / 2) : 0);
}

export function gramsOf(metres: Estimate, gauge: Gauge): Estimate {
  const gramsPerMetre = 100 / gauge.yarn.metresPer100g;
  return { value: metres.value * gramsPerMetre, sd: metres.sd * gramsPerMetre };
}

/** Sum of the parts (one common error) and the balls that are enough for it. */
export function yarnNeed(parts: readonly Estimate[], gauge: Gauge): YarnNeed {
  const metres = {
    value: parts.reduce((sum, part) => sum + part.value, 0),
    sd: parts.reduce((sum, part) => sum + part.sd, 0),
  };
  const ballMetres = (gauge.yarn.ballGrams * gauge.yarn.metresPer100g) / 100;
  const enough = (balls: number) => probabilityEnough(balls * ballMetres, metres);
  let balls = Math.max(1, Math.ceil(metres.value / ballMetres));
  while (enough(balls) < WANTED_PROBABILITY) balls++;
  return {
    metres,
    grams: gramsOf(metres, gauge),
    balls,
    probabilityEnough: enough(balls),
    oneBallLess: balls > 1 ? { balls: balls - 1, probabilityEnough: enough(balls - 1) } : null,
    calibratedBySwatch: gauge.yarnPerStitchMm !== null,
    byColour: [],
  };
}

/** Probability that `boughtMetres` cover the need with its allowance, the need being uncertain in proportion. */
function probabilityEnough(boughtMetres: number, need: Estimate): number {
  const relative = need.sd / need.value;
  return normalBelow(Math.log(boughtMetres / (need.value * ALLOWANCE)) / relative);
}

function fabricPathMm(tally: Tally, gauge: Gauge): number {
  const widthMm = gauge.stitchWidthMm.value;
  const stitchesMm = FABRIC_STITCHES.reduce(
    (sum, stitch) => sum + tally[stitch] * STITCH_FACTS[stitch].yarnOverWidth * widthMm,
    0,
  );
  return (
    stitchesMm +
    tally.ch * CHAIN_YARN_OVER_LENGTH * chainLengthMm(gauge) +
    tally['sl st'] * SLIP_YARN_OVER_WIDTH * widthMm
  );
}

function cordPathMm(tally: Tally, gauge: Gauge): number {
  const ratio = gauge.cordSample?.yarnPerLength.value ?? CORD_YARN_OVER_LENGTH * calibration(gauge);
  return tally.cord * cordStitchMm(gauge) * ratio;
}

/** Own yarn per stitch over the table's: scales all stitches alike. */
function calibration(gauge: Gauge): number {
  if (!gauge.yarnPerStitchMm) return 1;
  return gauge.yarnPerStitchMm.value / (STITCH_FACTS[gauge.stitch].yarnOverWidth * gauge.stitchWidthMm.value);
}

function fabricRelativeSd(gauge: Gauge): number {
  if (!gauge.yarnPerStitchMm) return YARN_RELATIVE_SD;
  return Math.hypot(CALIBRATED_RELATIVE_SD, gauge.yarnPerStitchMm.sd / gauge.yarnPerStitchMm.value);
}

function cordRelativeSd(gauge: Gauge): number {
  if (!gauge.cordSample) return CORD_RELATIVE_SD;
  return Math.hypot(CALIBRATED_RELATIVE_SD, gauge.cordSample.yarnPerLength.sd / gauge.cordSample.yarnPerLength.value);
}
