import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { gaugeFromSwatch } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { pieceAfter, plannedLength, roundNumbered, verdictOn } from '../../../web/flat-piece/verdict.ts';

const container = containerFromTape({ diameterMm: 90, heightMm: 210 });
const gauge = gaugeFromSwatch({ stitch: 'sc', stitches: 16, widthMm: 100, rounds: 18, heightMm: 100 });
const planned = planCarrier(container, gauge, defaultChoices('sleeve'));
if (planned.outcome === 'refused') throw new Error(planned.reason.code);
const { plan } = planned;
const [base, wall] = [plan.parts[0].rounds, plan.parts[1].rounds];
const last = base[base.length - 1];
const disc = (mm: number) =>
  ({ afterRound: last.number, stitches: last.stitches, measure: 'width', mm, sdMm: 0.4 }) as const;
const expectedMm = last.widthMm?.value ?? 0;

describe('what a photographed disc means for the plan', () => {
  test('as wide as planned: go on', () => {
    const verdict = verdictOn(plan, disc(expectedMm));
    expect(verdict?.course).toEqual({ kind: 'go-on' });
    expect(verdict?.expectedMm).toEqual(last.widthMm);
  });

  test('clearly smaller: more rounds; clearly larger: back to an earlier round', () => {
    const smaller = verdictOn(plan, disc(expectedMm * 0.85))?.course;
    expect(smaller?.kind === 'more-rounds' && smaller.count).toBeGreaterThan(0);
    const larger = verdictOn(plan, disc(expectedMm * 1.2))?.course;
    expect(larger?.kind === 'rip-back' && larger.toRound).toBeLessThan(last.number);
  });

  test('other counts than the plan has are taken as they were counted', () => {
    const verdict = verdictOn(plan, { ...disc(expectedMm), stitches: last.stitches + 3 });
    expect(verdict?.expectedMm).toBeNull();
  });

  test('a size that this round cannot have is refused', () => {
    expect(verdictOn(plan, disc(expectedMm * 4))).toBeNull();
  });
});

describe('a tube laid flat', () => {
  const round = wall[Math.floor(wall.length / 2)];

  test('is held against half of its stitches, and its length against wall and folded base', () => {
    const half = (round.stitches * plan.gauge.stitchWidthMm.value) / 2;
    const verdict = verdictOn(plan, { afterRound: round.number, measure: 'width', mm: half, sdMm: 1 });
    expect(verdict?.expectedMm?.value).toBeCloseTo(half, 9);
    expect(plannedLength(plan, round.number)?.value).toBeCloseTo((round.heightMm?.value ?? 0) + expectedMm / 2, 9);
  });

  test('is what can be photographed of a wall; of a net nothing keeps its width', () => {
    expect([pieceAfter(last), pieceAfter(round), pieceAfter({ part: 'mesh' })]).toEqual(['disc', 'tube', null]);
    expect(roundNumbered(plan, 9999)).toBeNull();
  });
});
