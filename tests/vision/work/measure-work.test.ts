import { describe, expect, it } from 'vitest';
import { measureDisc } from '../../../vision/work/measure-disc.ts';
import { measureSwatch } from '../../../vision/work/measure-swatch.ts';
import { photographed, randomDisc, randomRectangle } from '../../support/flat-work-cases.ts';
import { type CaseScore, scoreDisc, scoreSwatch, scoreTube } from '../../support/flat-work-scores.ts';

/** Beyond three standard uncertainties one of a few dozen sizes would be a surprise. */
const MOST_SDS = 3;

function medianAbsPct(cases: readonly CaseScore[]): number {
  const errors = cases.flatMap((one) => one.sizes.map(({ errorPct }) => Math.abs(errorPct))).sort((a, b) => a - b);
  return errors[errors.length >> 1];
}

describe.each([
  ['discs', scoreDisc, 12, 1],
  ['swatches', scoreSwatch, 4, 1.5],
  ['tubes', scoreTube, 4, 2.5],
] as const)('made-up photos of %s', (_, score, count, mostPct) => {
  const cases: CaseScore[] = [];
  for (let seed = 501; seed < 501 + count; seed++) {
    it(`number ${seed} is measured within its uncertainty`, () => {
      const one = score(seed);
      cases.push(one);
      expect(one.refused).toBeNull();
      for (const { sds } of [...one.sizes, ...one.gauge]) expect(Math.abs(sds)).toBeLessThan(MOST_SDS);
    });
  }

  it(`are measured to ${mostPct} % in the median`, () => {
    expect(cases).toHaveLength(count);
    expect(medianAbsPct(cases)).toBeLessThan(mostPct);
  });
});

describe('edges placed by hand', () => {
  it('give the diameter without a look at the pixels', () => {
    const { disc } = randomDisc(511);
    const { picture, input } = photographed(disc, 511, [800, 600]);
    const blank = { ...picture.photo, rgba: new Uint8Array(picture.photo.rgba.length) };
    // The plan outline half a thickness up: almost what is seen, for a thin fabric.
    const edgePx = picture.outlinePx.filter((_, i) => i % 12 === 0);
    const result = measureDisc({ ...input, photo: blank, edgePx, thicknessMm: disc.thicknessMm });
    expect(result.outcome).toBe('measured');
    if (result.outcome !== 'measured') return;
    const { value, sd } = result.disc.meanDiameterMm;
    expect(Math.abs(value - disc.meanDiameterMm)).toBeLessThan(MOST_SDS * sd);
  });
});

describe('refusals', () => {
  const { work } = randomRectangle(505, 'swatch');
  const { input } = photographed(work, 505, [800, 600]);

  it('says that a swatch is no disc', () => {
    expect(measureDisc(input)).toMatchObject({ outcome: 'refused', reason: { code: 'not-a-disc' } });
  });

  it('says that there is no work on an empty table', () => {
    const { photo } = input;
    const grey = new Uint8Array(photo.rgba.length).fill(140);
    expect(measureSwatch({ ...input, photo: { ...photo, rgba: grey } })).toMatchObject({
      outcome: 'refused',
      reason: { code: 'no-work' },
    });
  });
});
