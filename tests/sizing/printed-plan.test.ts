import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import { isOwnPiece, type Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { HANDS, type Hand, TERM_SETS, type TermSet } from '../../web/app/settings.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsMarkdown, blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { printedLines } from '../support/printed-lines.ts';
import { followPrintedPlan } from '../support/printed-plan-reader.ts';
import { choices, containers, gauges } from '../support/sizing-arbitraries.ts';

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
  [
    'jar with loops on a joined base',
    containerFromTape({ diameterMm: 89, heightMm: 130, shoulderZMm: 100 }),
    defaultGauge(),
    { ...net, mesh: { ...net.mesh, kind: 'loop' } },
  ],
  ['coaster', containerFromTape({ diameterMm: 89, heightMm: 130 }), defaultGauge('sc'), defaultChoices('mat')],
];

describe.each(stall)('the printed pattern of a %s', (_name, container, gauge, chosen) => {
  it.each(TERM_SETS.flatMap((terms) => HANDS.map((hand) => [terms, hand] as const)))(
    'can be followed word by word in %s terms, %s-handed, and comes out at the counts it states',
    (terms, hand) => expectFollowed(planned(container, gauge, chosen), terms, hand),
  );
});

describe('any printed pattern', () => {
  it.each(TERM_SETS)('can be followed word by word in %s terms', (terms) => {
    fc.assert(
      fc.property(containers, gauges, choices, fc.constantFrom(...HANDS), (container, gauge, chosen, hand) => {
        const result = planCarrier(container, gauge, chosen);
        if (result.outcome === 'planned') expectFollowed(result.plan, terms, hand);
      }),
      { numRuns: 200, seed: 6, endOnFailure: true },
    );
  });
});

describe('terms', () => {
  const plan = planned(...(stall[1].slice(1) as [Container, Gauge, Choices]));

  it('every pattern states its term set and says what dc means in it', () => {
    expect(printed(plan, 'us')).toMatch(/US terms: dc is the double crochet \(UK: tr\)/);
    expect(printed(plan, 'uk')).toMatch(/UK terms: dc is the double crochet \(US: sc\)/);
  });

  it('a UK pattern says tension, and never names a stitch that only US patterns have', () => {
    expect(printed(plan, 'uk')).toMatch(/^- Tension: 16 tr and 10 rnds = 10 cm/m);
    expect(printed(plan, 'us')).toMatch(/^- Gauge: 16 dc and 10 rnds = 10 cm/m);
    expect(printedLines(plan, 'uk').join(' ')).not.toMatch(/\b(sc|hdc|sl st|sk)\b/);
    expect(printedLines(plan, 'uk')[0]).toContain('9 tr in ring');
  });

  it('a German pattern has no English in it', () => {
    expect(printed(plan, 'de')).not.toMatch(/\b(the|and|with|stitch|round|chain|base|gauge)\b/i);
  });

  it('leaves no hole in any print', () => {
    for (const terms of TERM_SETS) expect(printed(plan, terms)).not.toMatch(/[{}]|undefined|NaN|null/);
  });
});

describe('a pattern in Markdown', () => {
  it('has rounds to tick off and a table with as many cells as headings', () => {
    const markdown = blocksAsMarkdown(blocks(planned(...(stall[4].slice(1) as [Container, Gauge, Choices])), 'us'));
    expect(markdown).toMatch(/^- \[ \] \*\*Rnd 1:\*\* /m);
    const rows = markdown.split('\n').filter((line) => line.startsWith('|'));
    expect(new Set(rows.map((row) => row.split('|').length))).toEqual(new Set([7]));
  });
});

describe('cautions', () => {
  it('warn of cord loops, heat and glass on every pattern with a strap', () => {
    const text = printed(planned(...(stall[1].slice(1) as [Container, Gauge, Choices])), 'us');
    for (const word of ['children', 'EN 14682', 'EN 71-1', 'scald', 'Glass', 'Before use'])
      expect(text).toContain(word);
  });
});

function expectFollowed(plan: Plan, terms: TermSet, hand: Hand): void {
  const lines = printedLines(plan, terms, hand);
  const read = followPrintedPlan(lines, terms === 'de' ? 'german' : 'english');
  const rounds = plan.parts.flatMap((part) => part.rounds).filter(({ part }) => !isOwnPiece(part));
  expect(read.map(({ stitches }) => stitches)).toEqual(rounds.map(({ stitches }) => stitches));
  for (const round of read) {
    if (round.stitches !== round.statedStitches || round.spaces !== round.statedSpaces) expect.fail(round.label);
  }
}

function blocks(plan: Plan, terms: TermSet) {
  const language = terms === 'de' ? 'de' : 'en';
  const text = language === 'de' ? de : en;
  const voice = voiceOf({ language, terms, units: 'cm', hand: 'right' });
  return patternBlocks(patternOf('Net', plan, text, voice), text);
}

/** In one line a paragraph, so that sentences can be looked for. */
function printed(plan: Plan, terms: TermSet): string {
  return blocksAsText(blocks(plan, terms), Number.POSITIVE_INFINITY);
}

function planned(container: Container, gauge: Gauge, chosen: Choices): Plan {
  const result = planCarrier(container, gauge, chosen);
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}
