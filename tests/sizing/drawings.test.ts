import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { baseChartSvg } from '../../sizing/draw/base-chart.ts';
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
    expect(strokes).toBe(2 * stitches + 2 * kinds + 2);
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

function wordsIn(terms: 'us' | 'uk') {
  return drawingWords(en, voiceOf({ language: 'en', terms, units: 'cm', hand: 'right' }));
}
