import { beforeAll, describe, expect, it } from 'vitest';
import { measureWork } from '../../../vision/flat-piece/measure-work.ts';
import { ellipseThrough, normalOn, pointOn } from '../../../vision/geometry/ellipse.ts';
import type { Cv } from '../../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { findRound } from '../../../vision/reference/find-round.ts';
import { parseRoundReference, type RoundReference } from '../../../vision/reference/round-reference.ts';
import { randomDisc } from '../../support/flat-work-cases.ts';
import { randomScene, takePicture } from '../../support/flat-work-pictures.ts';

const SIZE_PX = [1000, 750] as const;
let cv: Cv;

beforeAll(async () => {
  cv = (await loadOpenCv()).cv;
});

function named(name: string): RoundReference {
  const reference = parseRoundReference(name);
  if (!reference) throw new Error(`${name} is unknown`);
  return reference;
}

describe('ellipseThrough', () => {
  it('finds the ellipse that points lie on, also from a quarter of it', () => {
    const ellipse = { middle: [300, 200], long: 80, short: 50, turnRad: 0.4 } as const;
    for (const reach of [2 * Math.PI, Math.PI / 2]) {
      const found = ellipseThrough(Array.from({ length: 30 }, (_, i) => pointOn(ellipse, (reach * i) / 30)));
      expect(found?.middle[0]).toBeCloseTo(300, 6);
      expect(found?.long).toBeCloseTo(80, 6);
      expect(found?.short).toBeCloseTo(50, 6);
      expect(found?.turnRad).toBeCloseTo(0.4, 6);
    }
    const [x, y] = normalOn(ellipse, 0);
    expect([x, y]).toEqual([expect.closeTo(Math.cos(0.4), 9), expect.closeTo(Math.sin(0.4), 9)]);
  });

  it('is none through points on a line or a hyperbola', () => {
    expect(ellipseThrough(Array.from({ length: 20 }, (_, i) => [i, 2 * i]))).toBeNull();
    expect(ellipseThrough(Array.from({ length: 20 }, (_, i) => [i + 1, 40 / (i + 1)]))).toBeNull();
  });
});

describe('findRound', () => {
  it.each([
    ['optical disc', 603],
    ['2 euro', 608],
  ])(
    'finds the rim of a %s beside crochet to a pixel of its long axis, and the work is measured by it',
    (name, seed) => {
      const reference = named(name);
      const { disc } = randomDisc(seed);
      const { photo, rimPx } = takePicture(randomScene(seed, disc, reference, SIZE_PX));
      const found = findRound(cv, photo, null);
      const [seen, truth] = [ellipseThrough(found?.rimPx ?? []), ellipseThrough(rimPx)];
      expect(Math.abs((seen?.long ?? 0) - (truth?.long ?? 0))).toBeLessThan(1);
      const result = measureWork({ cv, outlineModel: null }, photo, 'disc', {
        round: { reference },
        stitches: disc.stitches,
      });
      if (result.outcome !== 'measured' || result.piece !== 'disc') throw new Error('not measured');
      const { value, sd } = result.disc.meanDiameterMm;
      expect(Math.abs(value - disc.meanDiameterMm)).toBeLessThan(3 * sd);
    },
  );

  it('takes neither crochet nor anything else for a coin: with a card in the picture it says that no coin was found', () => {
    const { disc } = randomDisc(611);
    const { photo } = takePicture(randomScene(611, disc, undefined, SIZE_PX));
    const result = measureWork({ cv, outlineModel: null }, photo, 'disc', { round: { reference: named('2 euro') } });
    expect(result.outcome === 'refused' && result.reason.code).toBe('no-round-reference');
  });

  it('does not take what was tapped as the work', () => {
    const { disc } = randomDisc(608);
    const { photo, rimPx } = takePicture(randomScene(608, disc, named('2 euro'), SIZE_PX));
    const middle = ellipseThrough(rimPx)?.middle ?? [0, 0];
    const found = findRound(cv, photo, middle);
    const other = found && ellipseThrough(found.rimPx);
    expect(!other || Math.hypot(other.middle[0] - middle[0], other.middle[1] - middle[1]) > 20).toBe(true);
  });
});
