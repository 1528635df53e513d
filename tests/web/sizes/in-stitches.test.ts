import { expect, test } from 'vitest';
import { gaugeFromSwatch } from '../../../sizing/gauge.ts';
import { countInWords, spreadInStitches } from '../../../web/sizes/in-stitches.ts';
import { sizes } from '../../../web/text/en/sizes.ts';

test('± 1 mm across is half a stitch around for a stitch of 2 π mm', () => {
  const gauge = gaugeFromSwatch({ stitch: 'sc', stitches: 10, widthMm: 20 * Math.PI, rounds: 20, heightMm: 100 });
  const across = { value: 70, sd: 0, low95: 69, high95: 71 };
  const spread = spreadInStitches(across, { value: 200, sd: 0, low95: 195, high95: 205 }, gauge);
  expect(spread.around).toBeCloseTo(0.5, 10);
  expect(spread.rounds).toBeCloseTo(1, 10);
});

test('counts are said as exactly as a maker can count', () => {
  expect([0.1, 0.5, 1.2, 2.7].map((count) => countInWords(count, sizes.stitches))).toEqual([
    'less than a quarter of a stitch',
    'about half a stitch',
    'about one stitch',
    'about 3 stitches',
  ]);
});
