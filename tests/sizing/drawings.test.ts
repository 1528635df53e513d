import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { baseChartSvg } from '../../sizing/base/base-chart.ts';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { sideViewSvg } from '../../sizing/draw/side-view.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { inWords, lengthInWords, rangeInWords, yarnLengthInWords } from '../../sizing/words.ts';

const style = { terms: 'us', units: 'cm' } as const;

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
    expect(baseChartSvg(planned('net'), { terms: 'uk', units: 'cm' })).toContain('>tr<');
    expect(baseChartSvg(planned('net'), style)).toContain('>dc<');
  });
});

describe('lengths in words', () => {
  it('in centimetres to the millimetre, whole centimetres from a metre on', () => {
    expect(lengthInWords(66.2, 'cm')).toBe('6.6 cm');
    expect(lengthInWords(1192, 'cm')).toBe('119 cm');
  });

  it.each([
    [25.4, '1 in'],
    [66.7, '2 5/8 in'],
    [3.2, '1/8 in'],
    [1, '1/16 in'],
    [50.7, '2 in'],
    [1200, '47 in'],
  ])('%f mm in inches is %s, to the sixteenth of a tape, half inches from a metre on', (mm, words) => {
    expect(lengthInWords(mm, 'in')).toBe(words);
  });

  it('give a range one unit, and yarn in metres or yards', () => {
    expect(rangeInWords([66, 71], 'cm')).toBe('6.6 to 7.1 cm');
    expect(yarnLengthInWords(91.44, 'in')).toBe('100 yd');
  });

  it('and stitches are put into sentences', () => {
    expect(inWords('Work {sc} for {66.2 mm}.', { terms: 'uk', units: 'cm' })).toBe('Work dc for 6.6 cm.');
  });
});

function planned(carrier: 'net' | 'sleeve' | 'mat', stitch: 'sc' | 'dc' = 'dc'): Plan {
  const result = planCarrier(
    containerFromTape({ diameterMm: 70, heightMm: 160 }),
    defaultGauge(stitch),
    defaultChoices(carrier),
  );
  if (result.outcome === 'refused') throw new Error(result.reason.message);
  return result.plan;
}
