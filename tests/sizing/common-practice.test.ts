import { describe, expect, it } from 'vitest';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { flatSteps } from '../support/flat-steps.ts';

/**
 * Facts of common practice, no source: with light cotton (or sport held double) and a 4 mm hook, 10 double crochet to
 * start and 10 more each round, two to three increase rounds for an everyday bottle; a mesh of 2 chains over 2 skipped
 * stitches; three stitches a space in the band; a strap of about 120 cm; about an hour in all.
 */
describe.each<[string, Gauge]>([
  ['light cotton, 4 mm hook', defaultGauge('dc')],
  ['light yarn from its category, 4 mm hook', gaugeFromYarnCategory(3, { hookMm: 4 })],
  ['sport held double, 4 mm hook', gaugeFromYarnCategory(2, { hookMm: 4, strands: 2 })],
])('%s (common practice, no source)', (_name, gauge) => {
  it.each([66, 68, 70, 72, 75])(
    'a bottle of %i mm gets the base, mesh, band and strap makers are used to',
    (diameterMm) => {
      const plan = planFor(diameterMm, gauge);
      const base = plan.parts[0].rounds;
      expect(base[0].stitches).toBe(10);
      expect(base[1].stitches).toBe(20);
      const increaseRounds = base.filter((round, index) => index > 0 && round.stitches > base[index - 1].stitches);
      expect(increaseRounds.length).toBeGreaterThanOrEqual(2);
      expect(increaseRounds.length).toBeLessThanOrEqual(3);
      expect(plan.zones.map(({ chains }) => chains)).toEqual([2]);
      expect(plan.strap?.lengthMm).toBe(1200);
      expect(Math.abs(stitchesPerSpace(plan) - 3)).toBeLessThanOrEqual(0.25);
    },
  );

  it('takes about an hour, its uncertainty reaching to either side of it', () => {
    const { value, sd } = planFor(70, gauge).minutes;
    expect(value - 2 * sd).toBeLessThan(60);
    expect(value + 2 * sd).toBeGreaterThan(60);
  });
});

it('the mesh passes over two stitches at a time, but where the count does not divide', () => {
  const plan = planFor(72, defaultGauge('dc'));
  const first = plan.parts.flatMap((part) => part.rounds).find((round) => round.part === 'mesh') as Round;
  const skips = flatSteps(first.steps).flatMap((step) => (step.do === 'skip' ? [step.count] : []));
  expect(skips.filter((count) => count === 2).length).toBeGreaterThanOrEqual(skips.length - 2);
});

function planFor(diameterMm: number, gauge: Gauge): Plan {
  const result = planCarrier(containerFromTape({ diameterMm, heightMm: 210 }), gauge, defaultChoices());
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function stitchesPerSpace({ band, zones }: Plan): number {
  return (band?.stitches ?? 0) / zones[zones.length - 1].cells;
}
