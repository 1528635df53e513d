import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { renderPlanMarkdown } from '../../sizing/render-markdown.ts';
import { renderPlanText } from '../../sizing/render-text.ts';
import { type PlanStyle, roundInWords } from '../../sizing/words.ts';
import { followPrintedPlan } from '../support/printed-plan-reader.ts';
import { choices, containers, gauges } from '../support/sizing-arbitraries.ts';

const US: PlanStyle = { terms: 'us', units: 'cm' };
const UK: PlanStyle = { terms: 'uk', units: 'in' };
const net = defaultChoices();

const stall: [string, Container, Gauge, Choices][] = [
  [
    'small vial',
    containerFromTape({ diameterMm: 28, heightMm: 75, shoulderZMm: 55 }),
    gaugeFromSwatch({ stitch: 'sc', stitches: 25, widthMm: 100, rounds: 27, heightMm: 100 }),
    { ...net, strap: { ...net.strap, style: 'wrist' } },
  ],
  ['can', containerFromTape({ diameterMm: 66, heightMm: 115 }), defaultGauge(), net],
  [
    'tapered cup',
    containerFromTape({ diameterMm: 56, topDiameterMm: 90, heightMm: 115 }),
    defaultGauge('hdc'),
    defaultChoices('sleeve'),
  ],
  [
    'bottle of 1 l',
    containerFromTape({ diameterMm: 88, heightMm: 270, shoulderZMm: 170 }),
    gaugeFromYarnCategory(4, { stitch: 'sc' }),
    { ...net, mesh: { ...net.mesh, kind: 'loop' } },
  ],
  ['jar', containerFromTape({ diameterMm: 89, heightMm: 130, shoulderZMm: 100 }), defaultGauge(), net],
];

describe.each(stall)('the printed plan of a %s', (_name, container, gauge, chosen) => {
  it.each([US, UK])('can be followed word by word and comes out at the counts it states (%o)', (style) => {
    const plan = planned(container, gauge, chosen);
    const read = followPrintedPlan(renderPlanText(plan, style));
    expect(read.map(({ places }) => places.filter((place) => place === 'st').length)).toEqual(countsOf(plan));
    for (const { places, statedStitches, statedSpaces } of read) {
      expect(places.filter((place) => place === 'st').length).toBe(statedStitches);
      expect(places.filter((place) => place === 'ch-sp').length).toBe(statedSpaces);
    }
  });
});

describe('any printed plan', () => {
  it('can be followed word by word', () => {
    fc.assert(
      fc.property(containers, gauges, choices, (container, gauge, chosen) => {
        const result = planCarrier(container, gauge, chosen);
        if (result.outcome === 'refused') return;
        const read = followPrintedPlan(renderPlanText(result.plan, US));
        expect(read.map(({ places }) => places.filter((place) => place === 'st').length)).toEqual(
          countsOf(result.plan),
        );
      }),
      { numRuns: 150, seed: 6, endOnFailure: true },
    );
  });
});

describe('terms', () => {
  const plan = planned(...(stall[1].slice(1) as [Container, Gauge, Choices]));

  it('every plan states its term set and says what dc means in it', () => {
    expect(renderPlanText(plan, US)).toMatch(/named in US\s+terms: dc is the double crochet/);
    expect(renderPlanText(plan, UK)).toMatch(
      /named in UK\s+terms: dc is the double crochet, which US\s+patterns call sc/,
    );
  });

  it('a UK plan never names a stitch that only US patterns have', () => {
    const rounds = plan.parts.flatMap((part) => part.rounds).map((round) => roundInWords(round, UK));
    expect(rounds.join(' ')).not.toMatch(/\b(sc|hdc|sl st|skip)\b/);
    expect(rounds[0]).toContain('9 tr in the ring');
  });

  it('leaves no placeholder in either print', () => {
    for (const style of [US, UK]) {
      expect(renderPlanText(plan, style)).not.toMatch(/[{}]|undefined|NaN/);
      expect(renderPlanMarkdown(plan, style)).not.toMatch(/[{}]|undefined|NaN/);
    }
  });
});

describe('a plan in Markdown', () => {
  it('has rounds to tick off and tables with as many cells as headings', () => {
    const markdown = renderPlanMarkdown(planned(...(stall[4].slice(1) as [Container, Gauge, Choices])), US);
    expect(markdown).toMatch(/^- \[ \] \*\*Rnd 1\*\* /m);
    const rows = markdown.split('\n').filter((line) => line.startsWith('|'));
    const cells = rows.map((row) => row.split('|').length);
    expect(new Set(cells)).toEqual(new Set([8, 6]));
  });
});

describe('cautions', () => {
  it('warn of cord loops, heat and glass on every plan with a strap', () => {
    const text = renderPlanText(planned(...(stall[1].slice(1) as [Container, Gauge, Choices])), US);
    for (const word of ['children', 'EN 14682', 'EN 71-1', 'scald', 'Glass', 'Before use'])
      expect(text).toContain(word);
  });
});

function planned(container: Container, gauge: Gauge, chosen: Choices): Plan {
  const result = planCarrier(container, gauge, chosen);
  if (result.outcome === 'refused') throw new Error(result.reason.message);
  return result.plan;
}

function countsOf(plan: Plan): number[] {
  return plan.parts
    .flatMap((part) => part.rounds)
    .filter((round) => round.closing !== 'cord')
    .map((round) => round.stitches);
}
