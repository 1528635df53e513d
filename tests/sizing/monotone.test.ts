import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { gauges } from '../support/sizing-arbitraries.ts';

const RUNS = { numRuns: 400, seed: 71, endOnFailure: true };
const share = fc.double({ min: 1, max: 1.15, noNaN: true });
const diameters = fc.double({ min: 30, max: 160, noNaN: true });
const kinds = fc.constantFrom(defaultChoices('net'), defaultChoices('sleeve'), defaultChoices('mat'));

describe('a wider container', () => {
  it('never gets fewer stitches around, nor fewer base rounds', () => {
    fc.assert(
      fc.property(diameters, share, gauges, kinds, (diameterMm, wider, gauge, choices) => {
        const narrow = planned(diameterMm, gauge, choices);
        const wide = planned(diameterMm * wider, gauge, choices);
        if (!narrow || !wide) return;
        expect(around(wide)).toBeGreaterThanOrEqual(around(narrow));
        expect(baseRounds(wide)).toBeGreaterThanOrEqual(baseRounds(narrow));
      }),
      RUNS,
    );
  });
});

describe('a finer gauge', () => {
  it('never needs fewer stitches around, nor fewer base rounds', () => {
    fc.assert(
      fc.property(diameters, share, gauges, kinds, (diameterMm, coarser, gauge, choices) => {
        const fine = planned(diameterMm, gauge, choices);
        const coarse = planned(diameterMm, scaledGauge(gauge, coarser), choices);
        if (!fine || !coarse) return;
        expect(around(fine)).toBeGreaterThanOrEqual(around(coarse));
        expect(baseRounds(fine)).toBeGreaterThanOrEqual(baseRounds(coarse));
      }),
      RUNS,
    );
  });

  // A base that ends in a higher stitch leaves less to the wall, and the wall is counted in whole rounds.
  it('never needs fewer rounds in a closed sleeve, but for the one a higher end of the base saves', () => {
    fc.assert(
      fc.property(diameters, share, gauges, (diameterMm, coarser, gauge) => {
        const choices: Choices = { ...defaultChoices('sleeve'), band: { rounds: 0, stitchesPerSpace: null } };
        const fine = planned(diameterMm, gauge, choices);
        const coarse = planned(diameterMm, scaledGauge(gauge, coarser), choices);
        if (!fine || !coarse) return;
        expect(allRounds(fine)).toBeGreaterThanOrEqual(allRounds(coarse) - 1);
      }),
      RUNS,
    );
  });
});

describe('a taller container', () => {
  it('never needs fewer rounds', () => {
    fc.assert(
      fc.property(diameters, share, gauges, kinds, (diameterMm, taller, gauge, choices) => {
        const low = planned(diameterMm, gauge, choices, 150);
        const high = planned(diameterMm, gauge, choices, 150 * taller);
        if (!low || !high) return;
        expect(allRounds(high)).toBeGreaterThanOrEqual(allRounds(low));
      }),
      RUNS,
    );
  });
});

describe('a more certain gauge', () => {
  it('never makes a fit less likely', () => {
    fc.assert(
      fc.property(diameters, fc.double({ min: 0.2, max: 1, noNaN: true }), (diameterMm, sharper) => {
        const gauge = defaultGauge();
        const { value, sd } = gauge.stitchWidthMm;
        const surer = { ...gauge, stitchWidthMm: { value, sd: sd * sharper } };
        const before = planned(diameterMm, gauge, defaultChoices()) as Plan;
        const after = planned(diameterMm, surer, defaultChoices()) as Plan;
        expect(after.fit.probabilityFits).toBeGreaterThanOrEqual(before.fit.probabilityFits - 1e-9);
      }),
      { numRuns: 100, seed: 71 },
    );
  });
});

function planned(diameterMm: number, gauge: Gauge, choices: Choices, heightMm = 150): Plan | null {
  const result = planCarrier(containerFromTape({ diameterMm, heightMm }), gauge, choices);
  return result.outcome === 'planned' ? result.plan : null;
}

function around(plan: Plan): number {
  return plan.candidates[0].stitchesAround;
}

function baseRounds(plan: Plan): number {
  return plan.candidates[0].rounds;
}

function allRounds(plan: Plan): number {
  return plan.parts.reduce((sum, part) => sum + part.rounds.length, 0);
}

function scaledGauge(gauge: Gauge, factor: number): Gauge {
  const scaled = ({ value, sd }: { value: number; sd: number }) => ({ value: value * factor, sd: sd * factor });
  return {
    ...gauge,
    stitchWidthMm: scaled(gauge.stitchWidthMm),
    roundHeightMm: scaled(gauge.roundHeightMm),
    chainLengthMm: gauge.chainLengthMm && scaled(gauge.chainLengthMm),
  };
}
