import fc from 'fast-check';
import { expect } from 'vitest';
import type { Choices } from '../../sizing/choices.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { choices, containers, gauges } from './sizing-arbitraries.ts';
import { workPlan } from './stitch-accountant.ts';

const SEED = 20_261_125;

/**
 * Plans so many random containers, gauges and choices. Every plan can be worked stitch by stitch and is finite
 * throughout; a refusal comes only where the yarn is too coarse, or where typed chains are too few to reach around.
 * @returns how many were planned, or refused because of the chains that were typed
 */
export function planRandomly(numRuns: number): number {
  let planned = 0;
  fc.assert(
    fc.property(containers, gauges, choices, (container, gauge, chosen) => {
      const result = planCarrier(container, gauge, chosen);
      if (result.outcome === 'refused') {
        if (result.reason.code === 'cells-too-small') {
          planned++;
          return;
        }
        expect(result.reason.code).toBe('too-coarse');
        expect(roundsAcross(container, gauge) < 1.6 || stitchesAround(container, gauge) < 14).toBe(true);
        return;
      }
      planned++;
      expectConsistent(result.plan, chosen);
    }),
    { endOnFailure: true, numRuns, seed: SEED },
  );
  return planned;
}

function expectConsistent(plan: Plan, chosen: Choices): void {
  const rounds = plan.parts.flatMap((part) => part.rounds);
  const worked = workPlan(plan);
  for (const [index, round] of rounds.entries()) {
    if (worked[index].stitches !== round.stitches || worked[index].spaces !== round.spaces) {
      expect(worked[index], `round ${round.number} states its counts`).toMatchObject(round);
    }
  }
  const bad = firstNotFinite(plan, 'plan');
  if (bad) expect.fail(bad);
  const { probabilityFits, probabilityTooLoose, probabilityTooTight } = plan.fit;
  expect(probabilityFits + probabilityTooLoose + probabilityTooTight).toBeCloseTo(1, 6);
  expect(plan.yarn.probabilityEnough).toBeGreaterThanOrEqual(0.95);
  const heights = rounds.flatMap((round) => round.heightMm?.value ?? []);
  expect(heights.every((height, index) => index === 0 || height >= heights[index - 1] - 1e-9)).toBe(true);
  const widths = rounds.flatMap((round) => round.widthMm?.value ?? []);
  expect(widths.every((width, index) => index === 0 || width > widths[index - 1])).toBe(true);
  expect(plan.candidates.length).toBeGreaterThan(0);
  const tooHeavy = chosen.strap.style === 'by-load' && plan.load.fullMassG.value > 3000;
  expect(plan.strap === null).toBe(chosen.carrier === 'mat' || chosen.strap.style === 'none' || tooHeavy);
  if (plan.strap) expect(plan.cautions[0].code).toBe('caution-children');
}

function roundsAcross(container: Container, gauge: Gauge): number {
  return container.baseDiameterMm.value / 2 / gauge.roundHeightMm.value;
}

function stitchesAround(container: Container, gauge: Gauge): number {
  return (Math.PI * container.baseDiameterMm.value) / gauge.stitchWidthMm.value;
}

function firstNotFinite(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (value === null || typeof value !== 'object') return null;
  for (const [key, inner] of Object.entries(value)) {
    const found = firstNotFinite(inner, `${path}.${key}`);
    if (found) return found;
  }
  return null;
}
