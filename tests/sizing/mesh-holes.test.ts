import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices, MESH_KINDS, type MeshKind } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { chainLengthMm, type Gauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { workPlan } from '../support/stitch-accountant.ts';

const bottle = containerFromTape({ diameterMm: 73, heightMm: 210 });
const ownSc = swatch('sc', 20, 22);

describe('the holes of a net', () => {
  it.each(MESH_KINDS)(
    'are as wide as the container’s way round shared out over the spaces on the hook (%s)',
    (kind) => {
      const plan = planned(bottle, ownSc, netOf(kind, null));
      const spaces = spacesOnHook(plan);
      // An endless spiral of loops has half a cell more to a turn.
      const perTurn = kind === 'loop' ? spaces + 0.5 : spaces;
      expect(plan.zones[0].hole.widthMm).toBeCloseTo((Math.PI * 73) / perTurn, 6);
    },
  );

  it('of loops keep to the netting relation E2 = sqrt(1 - E1^2) (FAO 1975; Prado 1990): half their sides are one bar', () => {
    const plan = planned(bottle, ownSc, netOf('loop', null));
    const { hole, chains } = plan.zones[0];
    const barMm = ((chains + 1) * chainLengthMm(ownSc)) / 2;
    expect(Math.hypot(hole.widthMm / 2, hole.heightMm / 2)).toBeCloseTo(barMm, 6);
  });

  it('are told in mm in every net pattern, in both languages', () => {
    for (const kind of MESH_KINDS) {
      const plan = planned(bottle, ownSc, netOf(kind, null));
      const { widthMm, heightMm } = plan.zones[0].hole;
      const [wide, high] = [widthMm, heightMm].map((mm) => `${Math.round(mm)} mm`);
      expect(netNotes(plan, 'en')).toContain(`its holes are up to ${wide} wide and ${high} high`);
      expect(netNotes(plan, 'de')).toContain(`die Öffnungen bis zu ${wide} breit und ${high} hoch`);
    }
  });
});

describe('holes no larger than what is asked', () => {
  it('are kept to on any container, counted on the hook and along the rounds, or the plan says what the smallest are', () => {
    const { uniform, pick } = seededRandom(2304);
    let [kept, told] = [0, 0];
    for (let each = 0; each < 120; each++) {
      const diameterMm = uniform(45, 150);
      const topDiameterMm = diameterMm * pick([1, 1, 0.8, 1.25]);
      const container = containerFromTape({ diameterMm, topDiameterMm, heightMm: diameterMm * uniform(1, 3) });
      const stitch = pick(['sc', 'hdc', 'dc'] as const);
      const perTen = uniform(11, 24);
      const gauge = swatch(stitch, perTen, perTen / { sc: 0.9, hdc: 1.33, dc: 1.61 }[stitch]);
      const mostMm = uniform(8, 30);
      const result = planCarrier(container, gauge, netOf(pick(MESH_KINDS), mostMm));
      if (result.outcome === 'refused') continue;
      const { plan } = result;
      if (plan.zones.length === 0) continue;
      expect(() => workPlan(plan)).not.toThrow();
      if (plan.warnings.some(({ code }) => code === 'holes-larger')) {
        told++;
        expect(plan.choices.mesh.skip).toBe(1);
        continue;
      }
      kept++;
      // Where its rounds lie the container is never wider than at the top of the band, which a net widening upwards ends under.
      const widestMm = Math.max(diameterMm, diameterMm + (topDiameterMm - diameterMm) * topShare(plan));
      const loops = plan.zones[0].kind === 'loop';
      for (const { spaces } of meshOnHook(plan)) {
        expect((Math.PI * widestMm) / (loops ? spaces + 0.5 : spaces)).toBeLessThan(mostMm * 1.02);
      }
      expect(highestRoundMm(plan) * (loops ? 2 : 1)).toBeLessThan(mostMm + 1e-6);
    }
    expect(kept).toBeGreaterThan(50);
    expect(told).toBeGreaterThan(0);
  });

  it('never come of fewer spaces when they are to be smaller', () => {
    let compared = 0;
    for (const kind of MESH_KINDS) {
      let before = Number.POSITIVE_INFINITY;
      for (const mostMm of [10, 12, 15, 18, 22, 27, 33, 40]) {
        const spaces = spacesOnHook(planned(bottle, ownSc, netOf(kind, mostMm)));
        expect(spaces, `${kind} ${mostMm}`).toBeLessThanOrEqual(before);
        before = spaces;
        compared++;
      }
    }
    expect(compared).toBe(8 * MESH_KINDS.length);
  });

  it('of 15 mm come of many more spaces than those of 30 mm', () => {
    const [fine, coarse] = [15, 30].map((mostMm) => planned(bottle, ownSc, netOf('post', mostMm)));
    expect(spacesOnHook(fine)).toBeGreaterThan(1.5 * spacesOnHook(coarse));
    expect(coarse.zones[0].hole.widthMm).toBeGreaterThan(15);
  });
});

function netOf(kind: MeshKind, mostHoleMm: number | null): Choices {
  const usual = defaultChoices('net');
  return { ...usual, mesh: { ...usual.mesh, kind, mostHoleMm } };
}

function planned(container: Container, gauge: Gauge, choices: Choices): Plan {
  const result = planCarrier(container, gauge, choices);
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

/** Rounds of the mesh as the accountant has them on the hook. */
function meshOnHook(plan: Plan): { readonly spaces: number }[] {
  const worked = workPlan(plan);
  return plan.parts
    .flatMap(({ rounds }) => rounds)
    .flatMap(({ part }, index) => (part === 'mesh' ? [worked[index]] : []));
}

function spacesOnHook(plan: Plan): number {
  return meshOnHook(plan)[0].spaces;
}

/** How far up the container the net reaches. */
function topShare(plan: Plan): number {
  return (plan.coverHeightMm?.value ?? 0) / plan.container.heightMm.value;
}

/** From edge to edge of its rounds; the first and the last, which are ramped, lie between others. */
function highestRoundMm({ parts }: Plan): number {
  const heights = (parts.find(({ name }) => name === 'mesh')?.rounds ?? []).map(({ heightMm }) => heightMm?.value ?? 0);
  return Math.max(0, ...heights.slice(1).map((height, index) => height - heights[index]));
}

function netNotes(plan: Plan, language: 'en' | 'de'): string {
  const text = language === 'de' ? de : en;
  const voice = voiceOf({ language, terms: language === 'de' ? 'de' : 'us', units: 'cm', hand: 'right' });
  return (patternOf('', plan, text, voice).parts.find(({ name }) => name === 'mesh')?.notes ?? []).join(' ');
}

function swatch(stitch: 'sc' | 'hdc' | 'dc', stitches: number, rounds: number): Gauge {
  return gaugeFromSwatch({ stitch, stitches, widthMm: 100, rounds, heightMm: 100 });
}
