import { describe, expect, it } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import type { MeasuredDisc } from '../../../vision/flat-piece/measure-disc.ts';
import { gaugeFromDisc } from '../../../vision/flat-piece/work-gauge.ts';

function disc(diameterMm: number, sdMm: number): MeasuredDisc {
  return { meanDiameterMm: estimate(diameterMm, sdMm) } as MeasuredDisc;
}

describe('gaugeFromDisc', () => {
  it('shares the rim out over the stitches and the radius over the rounds', () => {
    const gauge = gaugeFromDisc(disc(80, 0), 5, 40);
    expect(gauge.stitchWidthMm.value).toBeCloseTo((Math.PI * 80) / 40, 9);
    expect(gauge.roundHeightMm.value).toBeCloseTo(8, 9);
  });

  it('is uncertain by half the cupping that cannot be seen, in opposite directions', () => {
    const gauge = gaugeFromDisc(disc(80, 0), 5, 40);
    // ±7 % rectangular, half of it each
    expect(gauge.stitchWidthMm.sd / gauge.stitchWidthMm.value).toBeCloseTo(0.07 / Math.sqrt(3) / 2, 9);
    expect(gauge.correlation).toBeCloseTo(-1, 9);
  });

  it('moves width and height together when the size itself is uncertain', () => {
    const gauge = gaugeFromDisc(disc(80, 8), 5, 40);
    expect(gauge.correlation).toBeGreaterThan(0.9);
  });
});
