import { defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { replan } from '../../sizing/follow/replan.ts';
import { defaultGauge, type Gauge } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { type FabricStitch, STITCH_FACTS } from '../../sizing/stitches.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

/** A maker who works what the plan says with stitches of her own size. */
export interface SimulatedJob {
  readonly container: Container;
  /** What she tells the planner before she starts. */
  readonly guess: Gauge;
  /** Her stitches over the guessed ones, width and height. */
  readonly widthFactor: number;
  readonly heightFactor: number;
  /** Relative standard uncertainty of one width read from a photo. */
  readonly photoRelativeSd: number;
  readonly seed: number;
}

export interface JobOutcome {
  /** Width across the finished base over the container's base diameter, minus 1. */
  readonly withChecks: number;
  readonly withoutChecks: number;
  readonly rippedBack: boolean;
}

/**
 * A random everyday job: container of 45–110 mm across, US double, half double or single crochet, a hand that works
 * `leastError` to `gaugeError` wider or narrower than guessed, and its own height over width (sd 3 %).
 */
export function randomJob(seed: number, gaugeError: number, leastError = 0): SimulatedJob {
  const random = seededRandom(seed * 15485863 + 11);
  const stitch = random.pick(['dc', 'dc', 'hdc', 'sc'] as const);
  const guess = defaultGauge(stitch);
  const widthFactor = 1 + random.uniform(leastError, gaugeError) * (random.chance(0.5) ? 1 : -1);
  return {
    container: containerFromTape({ diameterMm: random.uniform(45, 110), heightMm: random.uniform(110, 260) }),
    guess: {
      ...guess,
      // She knows that it is a guess.
      stitchWidthMm: { ...guess.stitchWidthMm, sd: 0.09 * guess.stitchWidthMm.value },
    },
    widthFactor,
    heightFactor: widthFactor * Math.exp(random.normal(0.03)),
    photoRelativeSd: 0.008,
    seed,
  };
}

/** Works the base twice: once with photos after round 2 and after the base, once without. Null when there is no plan. */
export function workJob(job: SimulatedJob): JobOutcome | null {
  const random = seededRandom(job.seed * 32452843 + 17);
  const first = planCarrier(job.container, job.guess, defaultChoices());
  if (first.outcome === 'refused') return null;
  // Patting flat and the ring in the middle differ from disc to disc, but not from round to round.
  const habit = Math.exp(random.normal(0.007));
  const diameterMm = job.container.baseDiameterMm.value;
  const error = (plan: Plan): number => (widthOf(baseRounds(plan), job) * habit) / diameterMm - 1;

  const afterTwo = checked(first.plan, Math.min(2, baseRounds(first.plan).length), job, habit, random);
  const afterBase = checked(afterTwo.plan, baseRounds(afterTwo.plan).length, job, habit, random);
  return {
    withChecks: error(afterBase.plan),
    withoutChecks: error(first.plan),
    rippedBack: afterTwo.rippedBack || afterBase.rippedBack,
  };
}

function checked(
  plan: Plan,
  afterRound: number,
  job: SimulatedJob,
  habit: number,
  random: SeededRandom,
): { readonly plan: Plan; readonly rippedBack: boolean } {
  const trueMm = widthOf(baseRounds(plan).slice(0, afterRound), job) * habit;
  const sdMm = trueMm * job.photoRelativeSd;
  const next = replan(plan, { afterRound, measuredWidthMm: trueMm + random.normal(sdMm), sdMm });
  if (next.outcome === 'refused') return { plan, rippedBack: false };
  return { plan: next.plan, rippedBack: next.advice.action === 'rip back' };
}

function baseRounds(plan: Plan): readonly Round[] {
  return plan.parts.find((part) => part.name === 'base')?.rounds ?? [];
}

/** Width across what she has really worked: rim and reach give in equally (derived, written again here). */
function widthOf(rounds: readonly Round[], { guess, widthFactor, heightFactor }: SimulatedJob): number {
  const last = rounds[rounds.length - 1];
  const rimMm = last.stitches * guess.stitchWidthMm.value * widthFactor;
  const reachMm = rounds.reduce((sum, round) => sum + heightOf(round.stitch ?? guess.stitch, guess), 0) * heightFactor;
  return 2 * Math.sqrt((reachMm * rimMm) / (2 * Math.PI));
}

function heightOf(stitch: FabricStitch, guess: Gauge): number {
  const ratio = STITCH_FACTS[stitch].heightOverWidth / STITCH_FACTS[guess.stitch].heightOverWidth;
  return guess.roundHeightMm.value * ratio;
}
