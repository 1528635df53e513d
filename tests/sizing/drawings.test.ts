import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { baseChartSvg } from '../../sizing/draw/base-chart.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import { sideViewSvg } from '../../sizing/draw/side-view.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { drawingWords } from '../../web/plan/words/drawing-words.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { en } from '../../web/text/en/text.ts';

const style = wordsIn('us');

describe.each(['net', 'sleeve', 'mat'] as const)('drawings of a %s', (carrier) => {
  const plan = planned(carrier);

  it.each([
    ['side view', sideViewSvg],
    ['base chart', baseChartSvg],
    ['chart of net and band', bodyChartSvg],
  ] as const)('the %s is a drawing that renders, with title, and leaves ink', async (_name, draw) => {
    const svg = draw(plan, style);
    expect(svg).toContain('<title>');
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const onPaper = await sharp(Buffer.from(svg)).flatten({ background: '#fff' }).png().toBuffer();
    const { channels } = await sharp(onPaper).stats();
    expect(channels[0].min).toBeLessThan(100);
    expect(channels[0].max).toBe(255);
  });
});

describe('the base chart', () => {
  it('draws every stitch once, with the two strokes of its symbol, and a sample of each below', () => {
    const { rounds } = planned('net', 'sc').parts[0];
    const strokes = baseChartSvg(planned('net', 'sc'), style).match(/<path/g)?.length;
    const stitches = rounds.reduce((sum, round) => sum + round.stitches, 0);
    const kinds = new Set(rounds.map((round) => round.stitch)).size;
    // An arrow at the start of every round and one below; the increase below has two strokes.
    expect(strokes).toBe(2 * stitches + rounds.length + 2 * kinds + 2 + 1);
  });

  it('explains every symbol it draws, and where a round starts', () => {
    const words = [...baseChartSvg(planned('net'), style).matchAll(/<text[^>]*>([^<]+)</g)].map(([, word]) => word);
    expect(words.filter((word) => !/^\d+$/.test(word)).sort()).toEqual(
      ['ring', 'ch', 'sl st', 'sc', 'dc', 'increase', 'start'].sort(),
    );
  });

  it('is mirrored in the left hand', () => {
    const [right, left] = (['right', 'left'] as const).map((hand) =>
      dots(baseChartSvg(planned('net'), wordsIn('us', hand))),
    );
    expect(left.length).toBe(right.length);
    left.forEach(([x, y], index) => {
      expect(x).toBeCloseTo(-right[index][0], 1);
      expect(y).toBeCloseTo(right[index][1], 1);
    });
  });

  it('lights the round in work and leaves the others pale', () => {
    const { rounds } = planned('net').parts[0];
    expect(baseChartSvg(planned('net'), style, 2).match(/opacity="0.3"/g)).toHaveLength(rounds.length - 1);
  });

  it('is labelled in the reader’s terms', () => {
    expect(baseChartSvg(planned('net'), wordsIn('uk'))).toContain('>tr<');
    expect(baseChartSvg(planned('net'), style)).toContain('>dc<');
  });
});

function planned(carrier: 'net' | 'sleeve' | 'mat', stitch: 'sc' | 'dc' = 'dc'): Plan {
  const result = planCarrier(
    containerFromTape({ diameterMm: 70, heightMm: 160 }),
    defaultGauge(stitch),
    defaultChoices(carrier),
  );
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

/** Centres of the slip stitches that join the rounds. */
function dots(svg: string): [number, number][] {
  const joins = svg.matchAll(/<circle cx="([-\d.]+)" cy="([-\d.]+)" r="[\d.]+" fill="currentColor"/g);
  return [...joins].map(([, x, y]): [number, number] => [Number(x), Number(y)]).slice(0, 3);
}

function wordsIn(terms: 'us' | 'uk', hand: 'right' | 'left' = 'right') {
  return drawingWords(en, voiceOf({ language: 'en', terms, units: 'cm', hand }));
}
