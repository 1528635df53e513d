import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { measureWork } from '../../../vision/flat-piece/measure-work.ts';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { photographed, randomDisc, randomRectangle } from '../../support/flat-work-cases.ts';
import { type CaseScore, scoreDisc, scoreSwatch, scoreTube } from '../../support/flat-work-scores.ts';

const { cv } = await loadOpenCv();
const engine = { cv, outlineModel: null };
/** Beyond three standard uncertainties one of a few dozen sizes would be a surprise. */
const MOST_SDS = 3;

function medianAbsPct(cases: readonly CaseScore[]): number {
  const errors = cases.flatMap((one) => one.sizes.map(({ errorPct }) => Math.abs(errorPct))).sort((a, b) => a - b);
  return errors[errors.length >> 1];
}

describe.each([
  // In 503 the card is not found.
  ['discs', scoreDisc, 504, 12, 1],
  ['swatches', scoreSwatch, 504, 4, 1.5],
  ['tubes', scoreTube, 504, 4, 2.5],
] as const)('made-up photos of %s', (_, score, first, count, mostPct) => {
  const cases: CaseScore[] = [];
  for (let seed = first; seed < first + count; seed++) {
    it(`number ${seed} is measured within its uncertainty`, () => {
      const one = score(engine, seed);
      cases.push(one);
      expect(one.refused).toBeNull();
      for (const { sds } of [...one.sizes, ...one.gauge, ...one.outOfRoundness]) {
        expect(Math.abs(sds)).toBeLessThan(MOST_SDS);
      }
    });
  }

  it(`are measured to ${mostPct} % in the median`, () => {
    expect(cases).toHaveLength(count);
    expect(medianAbsPct(cases)).toBeLessThan(mostPct);
  });
});

describe('a swatch that lies diagonally', () => {
  it.each([1021, 1051])('number %i has both lengths within both ± until the maker says along which side', (seed) => {
    const { sizes, beforeAsking } = scoreSwatch(engine, seed);
    expect(beforeAsking.map(({ isInside }) => isInside)).toEqual([true, true]);
    for (const { sds } of sizes) expect(Math.abs(sds)).toBeLessThan(MOST_SDS);
  });
});

it('a tube in the colour of the table is followed to its far edge from the part of it that stood out', () => {
  for (const { sds } of scoreTube(engine, 1016).sizes) expect(Math.abs(sds)).toBeLessThan(MOST_SDS);
});

it('a grey tube on a white table is said to look like shadow, and its ± reaches from the shadow found to its true edge', () => {
  const { work } = randomRectangle(1014, 'tube');
  const { photo, cornersPx } = photographed(work, 1014);
  const result = measureWork(engine, photo, 'tube', { cornersPx: cornersPx ?? undefined, rowsRun: 'up' });
  if (result.outcome === 'refused' || result.piece !== 'tube') throw new Error(result.outcome);
  expect(result.warnings.map(({ code }) => code)).toContain('yarn-like-shadow');
  for (const [size, trueMm] of [
    [result.tube.widthMm, work.widthMm],
    [result.tube.lengthMm, work.lengthMm],
  ] as const) {
    expect(size.low95).toBeLessThan(trueMm);
    expect(size.high95).toBeGreaterThan(trueMm);
  }
});

it('a disc is measured alike with the network, which points out the card, and without', () => {
  using outlineModel = loadOutlineModel(cv, readFileSync('vision/network/outline-model.onnx'));
  const { disc } = randomDisc(504);
  const { photo } = photographed(disc, 504);
  const [without, withNetwork] = [engine, { cv, outlineModel }].map((each) => {
    const result = measureWork(each, photo, 'disc', { stitches: disc.stitches });
    if (result.outcome !== 'measured' || result.piece !== 'disc') throw new Error('not measured');
    return result.disc.meanDiameterMm;
  });
  expect(Math.abs(withNetwork.value - without.value)).toBeLessThan(0.5 * without.sd);
});
