import { describe, expect, it } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { defaultGauge, gaugeFromSwatch } from '../../../sizing/gauge.ts';
import type { Plan } from '../../../sizing/plan.ts';
import { currentPlan } from '../../../web/plan/current-plan.ts';
import { choicesFrom, NOT_STARTED, type PlanChoices } from '../../../web/plan/plan-progress.ts';
import type { OwnRounds } from '../../../web/regrade/own-rounds.ts';
import { workPlan } from '../../support/stitch-accountant.ts';

const OWN: OwnRounds = {
  rounds: '6, 12, 18, 24, 30, 36, 42; wall 2; 14 x ch5; 12 rounds; band 3',
  madeFor: { diameterMm: 70, heightMm: 200 },
  gaugeKnown: false,
};
const choices: PlanChoices = { ...choicesFrom(null), own: OWN };
const wider = containerFromTape({ diameterMm: 88, heightMm: 250 });

describe('a plan from her own rounds', () => {
  it('keeps her start and her increases, grown in proportion, and can be worked stitch by stitch', () => {
    const { plan, regraded } = planned(choices);
    // 42 stitches around 70 mm are 52.8 around 88 mm: with 6 a round that is 54 in nine rounds, 2.3 % more.
    expect(baseCounts(plan)).toEqual([6, 12, 18, 24, 30, 36, 42, 48, 54]);
    expect(plan.zones[0]).toMatchObject({ kind: 'loop', chains: 5, cells: 18 });
    expect(regraded.map(({ code }) => code)).toContain('base-kept');
    expect(() => workPlan(plan)).not.toThrow();
  });

  it('comes back as it was kept, and without them where they are no longer as they should be', () => {
    const kept = JSON.parse(JSON.stringify(choices));
    expect(choicesFrom(kept).own).toEqual(OWN);
    expect(choicesFrom({ ...kept, own: { rounds: 5 } }).own).toBeNull();
    expect(choicesFrom({ ...kept, own: undefined }).own).toBeNull();
  });

  it('stays hers while the work comes out as expected, and says what changes when it does not', () => {
    const { plan } = planned(choices);
    const expectedMm = plan.parts[0].rounds[4].widthMm?.value ?? 0;
    const reading = { afterRound: 5, measure: 'width', mm: expectedMm } as const;
    const asExpected = currentPlan(wider, defaultGauge(), choices, { roundsDone: 5, readings: [reading] });
    if (asExpected.outcome !== 'planned') return expect.fail(asExpected.outcome);
    expect(baseCounts(asExpected.plan)).toEqual(baseCounts(plan));
    expect(asExpected.answers[0].answer).toMatchObject({ advice: { action: 'go on' } });
    const wide = { ...reading, mm: expectedMm * 1.12 };
    const changed = currentPlan(wider, defaultGauge(), choices, { roundsDone: 5, readings: [wide] });
    if (changed.outcome !== 'planned') return expect.fail(changed.outcome);
    expect(baseCounts(changed.plan).length).toBeLessThan(9);
    expect(() => workPlan(changed.plan)).not.toThrow();
  });

  it('says where her rounds cannot be the carrier of the container she names', () => {
    // 42 stitches of 8 mm are 107 mm across, not 70.
    const coarse = gaugeFromSwatch({ stitch: 'sc', stitches: 12.5, widthMm: 100, rounds: 14, heightMm: 100 });
    const current = currentPlan(wider, coarse, { ...choices, own: { ...OWN, gaugeKnown: true } }, NOT_STARTED);
    expect(current).toMatchObject({ outcome: 'disagrees', disagreement: { code: 'base-width' } });
  });
});

function planned(chosen: PlanChoices) {
  const current = currentPlan(wider, defaultGauge(), chosen, NOT_STARTED);
  if (current.outcome !== 'planned') throw new Error(current.outcome);
  return current;
}

function baseCounts({ parts }: Plan): number[] {
  return parts[0].rounds.map(({ stitches }) => stitches);
}
