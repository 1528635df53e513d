import { describe, expect, it } from 'vitest';
import { widthAcrossMm } from '../../sizing/base/flat-circle.ts';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { gaugeFromDisc, type ReplanResult, replan, replanFromDisc } from '../../sizing/follow/replan.ts';
import { defaultGauge, type Gauge, roundHeightMm } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { workPlan } from '../support/stitch-accountant.ts';

const bottle = containerFromTape({ diameterMm: 72, heightMm: 220 });

describe('replan after measuring the base', () => {
  it('leaves the plan alone when the disc is as expected', () => {
    const plan = planned();
    const { advice, plan: after } = replanned(
      replan(plan, { afterRound: 2, measuredWidthMm: width(plan, 2), sdMm: 1 }),
    );
    expect(advice.action).toBe('go on');
    expect(base(after)).toEqual(base(plan).map((round) => ({ ...round, widthMm: expect.anything() })));
  });

  it('keeps the worked rounds stitch for stitch and can still be worked', () => {
    const plan = planned();
    const result = replanned(replan(plan, { afterRound: 2, measuredWidthMm: width(plan, 2) * 0.88, sdMm: 1 }));
    expect(
      base(result.plan)
        .slice(0, 2)
        .map(({ steps }) => steps),
    ).toEqual(
      base(plan)
        .slice(0, 2)
        .map(({ steps }) => steps),
    );
    expect(result.plan.workedRounds).toBe(2);
    expect(() => workPlan(result.plan)).not.toThrow();
  });

  it('adds stitches for a maker who works smaller, and takes some for one who works larger', () => {
    const plan = planned();
    const small = replanned(replan(plan, { afterRound: 2, measuredWidthMm: width(plan, 2) * 0.88, sdMm: 1 })).plan;
    const large = replanned(replan(plan, { afterRound: 2, measuredWidthMm: width(plan, 2) * 1.12, sdMm: 1 })).plan;
    expect(around(small)).toBeGreaterThan(around(plan));
    expect(around(large)).toBeLessThan(around(plan));
  });

  it('weighs the reading by its uncertainty: a vague one moves the gauge less', () => {
    const plan = planned();
    const measuredWidthMm = width(plan, 3) * 0.9;
    const sharp = replanned(replan(plan, { afterRound: 3, measuredWidthMm, sdMm: 0.5 })).plan.gauge.stitchWidthMm;
    const vague = replanned(replan(plan, { afterRound: 3, measuredWidthMm, sdMm: 15 })).plan.gauge.stitchWidthMm;
    const before = plan.gauge.stitchWidthMm;
    expect(before.value - sharp.value).toBeGreaterThan(3 * (before.value - vague.value));
    expect(sharp.sd).toBeLessThan(vague.sd);
    expect(vague.sd).toBeLessThan(before.sd);
  });

  it('tells to rip back when the disc has outgrown the container', () => {
    const plan = planned();
    const last = base(plan).length;
    const { advice } = replanned(replan(plan, { afterRound: last, measuredWidthMm: width(plan, last) * 1.2, sdMm: 1 }));
    expect(advice.action).toBe('rip back');
    expect(advice.keepRounds).toBeLessThan(last);
  });

  it('raises the probability of a fit', () => {
    const plan = planned();
    const { plan: after } = replanned(replan(plan, { afterRound: 3, measuredWidthMm: width(plan, 3), sdMm: 1 }));
    expect(1 - after.fit.probabilityFits).toBeLessThan((1 - plan.fit.probabilityFits) / 5);
  });
});

describe('replan further up', () => {
  it('adds mesh rounds when the work is lower than expected, keeping the worked ones', () => {
    const plan = planned();
    const round = allRounds(plan).find((each) => each.part === 'mesh' && each.number > 9) as Round;
    const expected = round.heightMm?.value ?? 0;
    const { plan: after } = replanned(
      replan(plan, { afterRound: round.number, measuredHeightMm: expected * 0.85, sdMm: 1 }),
    );
    expect(meshRounds(after)).toBeGreaterThan(meshRounds(plan));
    expect(
      allRounds(after)
        .slice(0, round.number)
        .map(({ steps }) => steps),
    ).toEqual(
      allRounds(plan)
        .slice(0, round.number)
        .map(({ steps }) => steps),
    );
    expect(() => workPlan(after)).not.toThrow();
  });

  it('remembers a height when the next one is measured', () => {
    const plan = planned();
    const heightAfter = (from: Plan, number: number) => (allRounds(from)[number - 1].heightMm?.value ?? 0) * 0.9;
    const once = replanned(replan(plan, { afterRound: 8, measuredHeightMm: heightAfter(plan, 8), sdMm: 0.5 })).plan;
    const asExpected = allRounds(once)[11].heightMm?.value ?? 0;
    const twice = replanned(replan(once, { afterRound: 12, measuredHeightMm: asExpected, sdMm: 0.5 })).plan;
    expect(once.heightFactor).toBeLessThan(0.95);
    expect(twice.heightFactor).toBeCloseTo(once.heightFactor, 9);
    expect(meshRounds(twice)).toBe(meshRounds(once));
  });

  it('takes the width of a tube laid flat on solid rounds, and refuses it on a mesh', () => {
    const sleeve = planned('sleeve');
    const wall = allRounds(sleeve).find((round) => round.part === 'wall') as Round;
    const flatMm = (wall.stitches * sleeve.gauge.stitchWidthMm.value) / 2;
    const result = replanned(replan(sleeve, { afterRound: wall.number, measuredWidthMm: flatMm * 0.95, sdMm: 1 }));
    expect(result.plan.gauge.stitchWidthMm.value).toBeLessThan(sleeve.gauge.stitchWidthMm.value);
    const net = planned();
    const mesh = allRounds(net).find((round) => round.part === 'mesh') as Round;
    const refused = replan(net, { afterRound: mesh.number, measuredWidthMm: 100, sdMm: 1 });
    expect(refused).toMatchObject({ outcome: 'refused', reason: { field: 'progress.measuredWidthMm' } });
  });

  it('refuses a reading that belongs to another round, with what is allowed', () => {
    const result = replan(planned(), { afterRound: 2, measuredWidthMm: 150, sdMm: 1 });
    expect(result).toMatchObject({
      outcome: 'refused',
      reason: { code: 'out-of-range', field: 'progress.measuredWidthMm', value: 150 },
    });
  });
});

describe('replanFromDisc', () => {
  it('agrees with replan when the disc was worked as planned', () => {
    const plan = planned();
    const measuredWidthMm = width(plan, 3) * 0.93;
    const byRound = replanned(replan(plan, { afterRound: 3, measuredWidthMm, sdMm: 0.6 }));
    const byDisc = replanned(
      replanFromDisc(plan, { roundsWorked: 3, stitchCount: base(plan)[2].stitches, measuredWidthMm, sdMm: 0.6 }),
    );
    expect(byDisc.plan.gauge).toEqual(byRound.plan.gauge);
    expect(base(byDisc.plan)).toEqual(base(byRound.plan));
  });

  it('goes on from a disc that was not worked as planned', () => {
    const plan = planned();
    const { plan: after } = replanned(
      replanFromDisc(plan, { roundsWorked: 2, stitchCount: 24, measuredWidthMm: 43, sdMm: 0.6 }),
    );
    expect(() => workPlan(after)).not.toThrow();
  });

  it('learns width and height of the stitches from rounds, stitches and width', () => {
    const before = defaultGauge('sc');
    const after = gaugeFromDisc(before, { roundsWorked: 6, stitchCount: 36, measuredWidthMm: 62, sdMm: 0.5 });
    expect(after.stitchWidthMm.value).toBeLessThan(before.stitchWidthMm.value);
    expect(after.stitchWidthMm.sd / after.stitchWidthMm.value).toBeLessThan(0.04);
    expect(after.roundHeightMm.value).toBeLessThan(before.roundHeightMm.value);
  });
});

describe('a maker whose gauge is up to 15 % off the guess', () => {
  it('ends with the base within 3 % far more often when she checks twice', () => {
    const jobs = Array.from({ length: 200 }, (_, index) => index);
    const unchecked = jobs.filter((job) => Math.abs(finalError(job, false)) <= 0.03).length / jobs.length;
    const checked = jobs.filter((job) => Math.abs(finalError(job, true)) <= 0.03).length / jobs.length;
    expect(unchecked).toBeLessThan(0.35);
    expect(checked).toBeGreaterThanOrEqual(0.88);
  });
});

/** Relative error of the finished base's width, for a simulated maker with a ruler. */
function finalError(job: number, checks: boolean): number {
  const random = seededRandom(job + 1);
  const container = containerFromTape({ diameterMm: random.uniform(55, 105), heightMm: 180 });
  const guess = defaultGauge((['sc', 'hdc', 'dc'] as const)[job % 3]);
  const tension = random.uniform(0.85, 1.15);
  const hand = scaled(guess, tension, tension * (1 + random.normal(0.02)));
  let plan = planned('net', container, guess);
  for (const afterRound of checks ? [2, Number.POSITIVE_INFINITY] : []) {
    const round = Math.min(afterRound, base(plan).length);
    const measuredWidthMm = workedWidth(plan, round, hand) + random.normal();
    plan = replanned(replan(plan, { afterRound: round, measuredWidthMm, sdMm: 1 })).plan;
  }
  return workedWidth(plan, base(plan).length, hand) / plan.targetBaseDiameterMm.value - 1;
}

function workedWidth(plan: Plan, rounds: number, hand: Gauge): number {
  const worked = base(plan).slice(0, rounds);
  const reach = worked.reduce((sum, round) => sum + roundHeightMm(hand, round.stitch ?? hand.stitch), 0);
  return widthAcrossMm(worked[worked.length - 1].stitches, hand.stitchWidthMm.value, reach);
}

function scaled(gauge: Gauge, width: number, height: number): Gauge {
  return {
    ...gauge,
    stitchWidthMm: { value: gauge.stitchWidthMm.value * width, sd: 0 },
    roundHeightMm: { value: gauge.roundHeightMm.value * height, sd: 0 },
  };
}

function planned(carrier: 'net' | 'sleeve' = 'net', container = bottle, gauge = defaultGauge()): Plan {
  const result = planCarrier(container, gauge, defaultChoices(carrier));
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function replanned(result: ReplanResult) {
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result;
}

function allRounds(plan: Plan): readonly Round[] {
  return plan.parts.flatMap((part) => part.rounds);
}

function base(plan: Plan): readonly Round[] {
  return plan.parts[0].rounds;
}

function around(plan: Plan): number {
  return base(plan)[base(plan).length - 1].stitches;
}

function width(plan: Plan, round: number): number {
  return base(plan)[round - 1].widthMm?.value ?? Number.NaN;
}

function meshRounds(plan: Plan): number {
  return allRounds(plan).filter((round) => round.part === 'mesh').length;
}
