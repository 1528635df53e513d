import { describe, expect, it } from 'vitest';
import { measureWork } from '../../../vision/flat-piece/measure-work.ts';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { photographed, randomDisc, randomRectangle } from '../../support/flat-work-cases.ts';
import { scoreDisc, scoreSwatch } from '../../support/flat-work-scores.ts';

const { cv } = await loadOpenCv();
const engine = { cv, outlineModel: null };
/** Beyond three standard uncertainties one of a few dozen sizes would be a surprise. */
const MOST_SDS = 3;

// Many more: measure-work.long.test.ts
it.each([
  ['disc', scoreDisc],
  ['swatch', scoreSwatch],
] as const)('a made-up photo of a %s is measured within its uncertainty', (_, score) => {
  const { refused, sizes, gauge, outOfRoundness } = score(engine, 504);
  expect(refused).toBeNull();
  for (const { sds } of [...sizes, ...gauge, ...outOfRoundness]) expect(Math.abs(sds)).toBeLessThan(MOST_SDS);
});

describe('edges placed by hand', () => {
  it('give the diameter without a look at the pixels', () => {
    const { disc } = randomDisc(511);
    const { photo, outlinePx, cornersPx } = photographed(disc, 511);
    const blank = { ...photo, rgba: new Uint8Array(photo.rgba.length) };
    // The plan outline half a thickness up: almost what is seen, for a thin fabric.
    const edgePx: ImagePoint[] = outlinePx.filter((_, i) => i % 12 === 0);
    const result = measureWork(engine, blank, 'disc', {
      cornersPx: cornersPx ?? undefined,
      placementSdPx: 0.5,
      edgePx,
      thicknessMm: disc.thicknessMm,
    });
    if (result.outcome !== 'measured' || result.piece !== 'disc') throw new Error('not measured');
    const { value, sd } = result.disc.meanDiameterMm;
    expect(Math.abs(value - disc.meanDiameterMm)).toBeLessThan(MOST_SDS * sd);
  });
});

describe('refusals', () => {
  const { work } = randomRectangle(505, 'swatch');
  const { photo, cornersPx } = photographed(work, 505);

  it('says that a swatch is no disc', () => {
    expect(measureWork(engine, photo, 'disc')).toMatchObject({ outcome: 'refused', reason: { code: 'not-a-disc' } });
  });

  it('says that there is no work on an empty table', () => {
    const grey = { ...photo, rgba: new Uint8Array(photo.rgba.length).fill(140) };
    const result = measureWork(engine, grey, 'swatch', { cornersPx: cornersPx ?? undefined });
    expect(result).toMatchObject({ outcome: 'refused', reason: { code: 'no-work' } });
  });
});
