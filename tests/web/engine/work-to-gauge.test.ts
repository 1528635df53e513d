import { describe, expect, it } from 'vitest';
import { defaultGauge } from '../../../sizing/gauge.ts';
import { estimate } from '../../../vision/estimate.ts';
import type { MeasuredDisc } from '../../../vision/flat-piece/measure-disc.ts';
import type { MeasuredSwatch } from '../../../vision/flat-piece/measure-swatch.ts';
import type { MeasuredTube } from '../../../vision/flat-piece/measure-tube.ts';
import {
  discFromPhoto,
  gaugeAfterDiscPhoto,
  gaugeFromSwatchPhoto,
  progressFromTubePhoto,
} from '../../../web/engine/work-to-gauge.ts';

describe('a photo of the work, as sizing takes it', () => {
  it('hands a disc on with its counts and uncertainty', () => {
    const disc = { meanDiameterMm: estimate(62.4, 0.6) } as MeasuredDisc;
    expect(discFromPhoto(disc, 3, 30)).toEqual({ roundsWorked: 3, stitchCount: 30, measuredWidthMm: 62.4, sdMm: 0.6 });
  });

  it('makes the stitches of the gauge larger when the disc came out larger, and more certain', () => {
    const before = defaultGauge('dc');
    // Two rounds of twenty at the default gauge would be about 40 mm across.
    const after = gaugeAfterDiscPhoto(before, { meanDiameterMm: estimate(46, 0.4) } as MeasuredDisc, 2, 20);
    expect(after.stitchWidthMm.value).toBeGreaterThan(before.stitchWidthMm.value);
    expect(after.stitchWidthMm.sd / after.stitchWidthMm.value).toBeLessThan(
      before.stitchWidthMm.sd / before.stitchWidthMm.value,
    );
    expect(after.origin).toBe('measured');
  });

  it('reads stitch and row size from a swatch', () => {
    const swatch = { widthMm: estimate(96, 0.5), heightMm: estimate(80, 0.5) } as MeasuredSwatch;
    const gauge = gaugeFromSwatchPhoto(swatch, { stitch: 'sc', stitches: 16, rounds: 16 });
    expect(gauge.stitchWidthMm.value).toBeCloseTo(6, 9);
    expect(gauge.roundHeightMm.value).toBeCloseTo(5, 9);
  });

  it('hands a tube on as half of what runs round the middle of its fabric', () => {
    const tube = { aroundMm: estimate(210, 2) } as MeasuredTube;
    expect(progressFromTubePhoto(tube, 9)).toEqual({ afterRound: 9, measuredWidthMm: 105, sdMm: 1 });
  });
});
