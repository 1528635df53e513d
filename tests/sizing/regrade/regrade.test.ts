import { describe, expect, test } from 'vitest';
import { type Container, containerFromTape } from '../../../sizing/container.ts';
import { gaugeFromSwatch } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { type OwnPattern, parseOwnPattern } from '../../../sizing/regrade/own-pattern.ts';
import { type OwnDesign, ownPatternOf, type RegradeNote, regrade } from '../../../sizing/regrade/regrade.ts';
import { workPlan } from '../../support/stitch-accountant.ts';

function pattern(text: string): OwnPattern {
  const parsed = parseOwnPattern(text);
  if (parsed.outcome === 'not-read') throw new Error(`${text}: ${parsed.error.code}`);
  return parsed.pattern;
}

function bottle(diameterMm: number, heightMm: number, shoulderZMm?: number): Container {
  return containerFromTape({ diameterMm, heightMm, shoulderZMm });
}

/** 16 sc and 18 rounds over 10 cm: 6.25 mm wide, 5.6 mm high. */
const SC_GAUGE = gaugeFromSwatch({ stitch: 'sc', stitches: 16, widthMm: 100, rounds: 18, heightMm: 100 });

function planned(design: OwnDesign, container: Container) {
  const result = regrade(design, container);
  if (result.outcome !== 'planned') throw new Error(JSON.stringify(result));
  return result;
}

function counts(plan: ReturnType<typeof planned>['plan'], part: string): number[] {
  return plan.parts.flatMap(({ rounds }) => rounds).flatMap((round) => (round.part === part ? [round.stitches] : []));
}

function codes(notes: readonly RegradeNote[]): string[] {
  return notes.map(({ code }) => code);
}

/** Ten habits of our own (invented for the harbour stall), each with a container it is made for. */
const HABITS: readonly [name: string, text: string, madeFor: Container][] = [
  ['sixes in sc, loops', '6, 12, 18, 24, 30, 36 sc; wall 1; 12 x ch5; 10 rounds; band 2', bottle(70, 200)],
  ['twelves in dc, posts', '12, 24, 36 dc; wall 1; 12 x dc ch2; 11 rounds; band 2; strap 110 cm', bottle(72, 210)],
  ['eights in hdc, posts', '8, 16, 24, 32 hdc; wall 2; 8 x dc ch3; 9 rounds; band 3', bottle(64, 190)],
  ['tens in dc, loops over three', '10, 20, 30 dc; wall 0; 10 x ch6; 6 rounds; band 2', bottle(62, 170)],
  ['plain round at the rim', '6, 12, 18, 24, 30, 36, 36 sc; wall 1; 12 x ch4; 12 rounds; band 2', bottle(72, 220)],
  ['a last round of three', '6, 12, 18, 24, 30, 33 sc; wall 1; 11 x ch5; 10 rounds; band 2', bottle(66, 180)],
  ['a jar hugger', '7, 14, 21, 28, 35, 42 sc; wall 14; band 1', bottle(84, 110)],
  ['a mug hugger in hdc', '8, 16, 24, 32, 40 hdc; wall 8; band 2', bottle(80, 95)],
  ['a mat in dc', '12, 24, 36, 48 dc', bottle(85, 120)],
  ['shouldered flask', '6, 12, 18, 24, 30, 36, 42 sc; wall 2; 14 x ch5; 9 rounds; band 3', bottle(80, 240, 150)],
];

const OTHERS = [bottle(58, 150, 110), bottle(88, 250), bottle(110, 180)];

describe('a design regraded for other bottles', () => {
  describe.each(HABITS)('%s', (_, text, madeFor) => {
    const design = { pattern: pattern(text), madeFor, gauge: null };

    test.each(OTHERS.map((other) => [`${other.baseDiameterMm.value} x ${other.heightMm.value} mm`, other] as const))(
      'for %s it can be worked stitch by stitch and is as wide and high as asked',
      (_size, other) => {
        const { plan } = planned(design, other);
        for (const [index, worked] of workPlan(plan).entries()) {
          const round = plan.parts.flatMap(({ rounds }) => rounds)[index];
          if (round.closing !== 'cord')
            expect([worked.stitches, worked.spaces]).toEqual([round.stitches, round.spaces]);
        }
        const base = counts(plan, 'base');
        const own = design.pattern.baseCounts;
        const overhangMm = plan.carrier === 'mat' ? 2 * plan.choices.matOverhangMm : 0;
        const perMm = base[base.length - 1] / (other.baseDiameterMm.value + overhangMm);
        const ownPerMm = own[own.length - 1] / (madeFor.baseDiameterMm.value + overhangMm);
        expect(Math.abs(perMm / ownPerMm - 1)).toBeLessThan(0.035);
        const asked = plan.choices.coverHeightMm;
        if (asked !== null && plan.coverHeightMm) {
          // Half a round either way is what whole rounds allow.
          const bodyRoundMm = Math.max(...plan.parts.flatMap(({ rounds }) => rounds).map(heightOfRound(plan)));
          expect(Math.abs(plan.coverHeightMm.value - asked)).toBeLessThan(Math.max(0.035 * asked, 0.55 * bodyRoundMm));
        }
      },
    );

    test('keeps her first count and what she adds', () => {
      const { plan } = planned(design, OTHERS[1]);
      const base = counts(plan, 'base');
      const own = design.pattern.baseCounts;
      expect(base.slice(0, 3)).toEqual(own.slice(0, 3));
    });
  });
});

function heightOfRound({ gauge }: ReturnType<typeof planned>['plan']) {
  return (round: { readonly part: string }) => (round.part === 'base' ? 0 : 3 * gauge.stitchWidthMm.value);
}

describe('what is kept', () => {
  test('for the very bottle it was made for, her own counts come back', () => {
    for (const [name, text, madeFor] of HABITS) {
      const { plan, notes } = planned({ pattern: pattern(text), madeFor, gauge: null }, madeFor);
      const own = pattern(text);
      expect(counts(plan, 'base'), name).toEqual(own.baseCounts);
      if (own.mesh) {
        expect([name, plan.zones[0].cells, plan.zones[0].chains]).toEqual([name, own.mesh.cells, own.mesh.chains]);
        expect(Math.abs(counts(plan, 'mesh').length - (own.mesh.rounds as number)), name).toBeLessThanOrEqual(1);
      }
      expect(codes(notes), name).not.toContain('chains-fitted');
    }
  });

  test('her gauge gives her ease: 36 sc of 6.25 mm around 70 mm are 2.3 % more than it measures', () => {
    const { plan, notes } = planned(
      { pattern: pattern(HABITS[0][1]), madeFor: HABITS[0][2], gauge: SC_GAUGE },
      OTHERS[0],
    );
    expect(plan.choices.easeRatio).toBeCloseTo((36 * 6.25) / (Math.PI * 70) - 1, 9);
    expect(codes(notes)).not.toContain('gauge-from-pattern');
  });

  test('a plan of ours is a pattern too, and regrades to itself', () => {
    const container = bottle(73, 210);
    const result = planCarrier(container, SC_GAUGE);
    if (result.outcome === 'refused') throw new Error(result.reason.code);
    const own = ownPatternOf(result.plan);
    const { plan } = planned({ pattern: own, madeFor: container, gauge: SC_GAUGE }, container);
    expect(plan.zones[0].cells).toBe(result.plan.zones[0].cells);
    expect(Math.abs(counts(plan, 'base').slice(-1)[0] - own.baseCounts.slice(-1)[0])).toBeLessThanOrEqual(1);
  });

  test('a wider bottle never gets fewer stitches', () => {
    const design = { pattern: pattern(HABITS[0][1]), madeFor: HABITS[0][2], gauge: SC_GAUGE };
    const around = [50, 60, 70, 80, 95, 120, 150].map(
      (mm) => counts(planned(design, bottle(mm, 200)).plan, 'base').slice(-1)[0],
    );
    expect(around).toEqual([...around].sort((a, b) => a - b));
  });
});

describe('what must change is named', () => {
  test('a last round that adds fewer', () => {
    const { notes } = planned(
      { pattern: pattern(HABITS[0][1]), madeFor: HABITS[0][2], gauge: SC_GAUGE },
      bottle(76, 200),
    );
    expect(notes).toContainEqual({ code: 'last-round-adds', round: 7, adds: 3, usual: 6 });
  });

  test('a stitch that she did not say is taken from her start', () => {
    const design = { pattern: pattern('12, 24, 36; 12 x ch4; 9 rounds'), madeFor: bottle(72, 200), gauge: null };
    expect(planned(design, OTHERS[0]).notes).toContainEqual({ code: 'stitch-assumed', stitch: 'dc', start: 12 });
  });
});

describe('rounds and bottle that disagree are told', () => {
  test('a base that cannot be that wide at her gauge', () => {
    // Four rounds of 5.6 mm and 24 stitches of 6.25 mm lie 46 mm across (derived), a bottle of 80 mm needs 80.
    const result = regrade(
      { pattern: pattern('6, 12, 18, 24 sc; 8 x ch5'), madeFor: bottle(80, 200), gauge: SC_GAUGE },
      OTHERS[0],
    );
    expect(result).toMatchObject({ outcome: 'disagrees', disagreement: { code: 'base-width' } });
    if (result.outcome !== 'disagrees' || result.disagreement.code !== 'base-width') throw new Error('unexpected');
    expect(result.disagreement.baseMm.value).toBeCloseTo(
      2 * Math.sqrt((4 * (100 / 18) * 24 * 6.25) / (2 * Math.PI)),
      6,
    );
  });

  test('more rounds than the bottle is high', () => {
    const tall = pattern('6, 12, 18, 24, 30, 36 sc; wall 70');
    const result = regrade({ pattern: tall, madeFor: bottle(70, 120), gauge: SC_GAUGE }, OTHERS[0]);
    expect(result).toMatchObject({ outcome: 'disagrees', disagreement: { code: 'taller-than-container' } });
  });

  test('a bottle out of range is refused by name', () => {
    const design = { pattern: pattern(HABITS[0][1]), madeFor: HABITS[0][2], gauge: null };
    expect(regrade(design, bottle(5, 200))).toMatchObject({
      outcome: 'refused',
      reason: { code: 'out-of-range', field: 'container.baseDiameterMm' },
    });
  });
});
