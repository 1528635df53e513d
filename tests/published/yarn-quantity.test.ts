import { describe, expect, it } from 'vitest';
import { tallySteps } from '../../sizing/forecast/tally.ts';
import { yarnMetres } from '../../sizing/forecast/yarn-need.ts';
import { defaultGauge, type Gauge } from '../../sizing/gauge.ts';
import { CHAIN_YARN_OVER_LENGTH, type FabricStitch, STITCH_FACTS, YARN_RELATIVE_SD } from '../../sizing/stitches.ts';

const TAILS_M = 0.3;

describe('yarn in a fabric (published measurements: 5-inch samples, worsted, 5 mm hook)', () => {
  const WORSTED_WIDTH_MM = 101.6 / 12.5;

  it.each<[FabricStitch, number]>([
    ['sc', 31.42],
    ['hdc', 32.08],
    ['dc', 31.6],
  ])('%s takes %f inches a square inch, within 2 %%', (stitch, inchesPerSquareInch) => {
    const { yarnOverWidth, heightOverWidth } = STITCH_FACTS[stitch];
    const perArea = yarnOverWidth / heightOverWidth / WORSTED_WIDTH_MM;
    expect(Math.abs(perArea / (inchesPerSquareInch / 25.4) - 1)).toBeLessThan(0.02);
  });

  it('tr, which nobody measured, takes as much an area as the mean of those three, within 2 %', () => {
    const { yarnOverWidth, heightOverWidth } = STITCH_FACTS.tr;
    const perArea = yarnOverWidth / heightOverWidth / WORSTED_WIDTH_MM;
    expect(Math.abs(perArea / ((31.42 + 32.08 + 31.6) / 3 / 25.4) - 1)).toBeLessThan(0.02);
  });

  it('a chain takes 25.5 inches for 5, within 3 %', () => {
    expect(Math.abs(CHAIN_YARN_OVER_LENGTH / (25.5 / 5) - 1)).toBeLessThan(0.03);
  });

  it('the page’s own example, 34 by 34 inches in hdc, takes 37 084 inches, within 2 %', () => {
    const stitches = (34 * 34 * 25.4 ** 2) / (WORSTED_WIDTH_MM ** 2 * STITCH_FACTS.hdc.heightOverWidth);
    const metres = yarnMetres(tallySteps([worked('hdc', stitches)]), inGauge('hdc', WORSTED_WIDTH_MM)).value - TAILS_M;
    expect(Math.abs(metres / ((37_084.48 * 25.4) / 1000) - 1)).toBeLessThan(0.02);
  });
});

describe('yarn stated in a leaflet against yarn predicted from its size and gauge', () => {
  it('L15: 132 x 137 cm, sc and dc in turn, 8 x 7.5 on 10 cm: 1695 m, within the stated 15 %', () => {
    const stitches = (132 * 137 * 8 * 7.5) / 100;
    const steps = [worked('sc', stitches / 2), worked('dc', stitches / 2)];
    const predicted = yarnMetres(tallySteps(steps), inGauge('dc', 12.5));
    expect(Math.abs((predicted.value - TAILS_M) / 1695 - 1)).toBeLessThan(YARN_RELATIVE_SD);
    expect(Math.abs(predicted.value - TAILS_M - 1709)).toBeLessThan(2);
    expect(predicted.sd / predicted.value).toBeCloseTo(YARN_RELATIVE_SD, 3);
  });
});

describe('strands', () => {
  it('two strands held together take twice the metres and twice the grams', () => {
    const one = yarnMetres(tallySteps([worked('sc', 100)]), inGauge('sc', 6));
    const two = yarnMetres(tallySteps([worked('sc', 100)]), { ...inGauge('sc', 6), strands: 2 });
    expect(two.value).toBeCloseTo(2 * one.value, 9);
  });
});

function worked(stitch: FabricStitch, times: number) {
  return { do: 'stitch', stitch, into: 'stitch', times } as const;
}

function inGauge(stitch: FabricStitch, widthMm: number): Gauge {
  return { ...defaultGauge(stitch), stitchWidthMm: { value: widthMm, sd: 0.1 } };
}
