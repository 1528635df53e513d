import { describe, expect, it } from 'vitest';
import { measureDisc } from '../../../vision/flat-piece/measure-disc.ts';
import { seenRound } from '../../../vision/flat-piece/seen-reference.ts';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { ROUND_REFERENCES, type RoundReference } from '../../../vision/reference/round-reference.ts';
import { roundTableView } from '../../../vision/reference/round-view.ts';
import {
  imageFromTable,
  propagate,
  type TablePoint,
  type TableView,
  tableFromImage,
} from '../../../vision/reference/table-view.ts';
import { randomDisc } from '../../support/flat-work-cases.ts';
import { randomScene, takePicture } from '../../support/flat-work-pictures.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const DISC = ROUND_REFERENCES.find(({ name }) => name === 'optical disc') as RoundReference;
const COIN = ROUND_REFERENCES.find(({ name }) => name === '2 euro') as RoundReference;
const SIZE = { widthPx: 2000, heightPx: 1500 };

/** A camera 350 mm away, seeing the reference 50 mm left of the middle under the given elevation, far side up. */
function viewUnder(elevationRad: number, reference: RoundReference): TableView {
  const [c, s] = [Math.cos(elevationRad), Math.sin(elevationRad)];
  const rotation = [1, 0, 0, 0, -s, -c, 0, c, -s];
  const translationMm = [-50, 0, 350] as const;
  const eyeMm = [50, -350 * c, 350 * s + reference.thicknessMm] as const;
  const camera = { focalPx: 1500, centreXPx: 999.5, centreYPx: 749.5, k1: 0 };
  return { camera, rotation, translationMm, stretch: 1, faceHeightMm: reference.thicknessMm, eyeMm };
}

function circle(middle: TablePoint, radiusMm: number, count: number): TablePoint[] {
  return Array.from({ length: count }, (_, i): TablePoint => {
    const turn = (2 * Math.PI * i) / count;
    return [middle[0] + radiusMm * Math.cos(turn), middle[1] + radiusMm * Math.sin(turn)];
  });
}

function viewFromRim(truth: TableView, reference: RoundReference, noisePx: number, seed = 1) {
  const random = seededRandom(seed);
  const rimPx = circle([0, 0], reference.diameterMm / 2, 24).map((point): ImagePoint => {
    const [x, y] = imageFromTable(truth, point, reference.thicknessMm);
    return [x + random.normal(noisePx), y + random.normal(noisePx)];
  });
  const focalPrior = { focalPx: 1500, relativeSd: 0.02, source: 'exif' } as const;
  return roundTableView({
    rimPx,
    pointSdPx: Math.max(noisePx, 0.1),
    reference,
    focalPrior,
    ...SIZE,
    looksCropped: false,
  });
}

describe('camera over the table from a round reference', () => {
  it.each([0.7, 0.9, 1.2])('stands where it stood, seen under %f rad', (elevation) => {
    const truth = viewUnder(elevation, DISC);
    const found = viewFromRim(truth, DISC, 0);
    expect(found?.view.eyeMm[2]).toBeCloseTo(truth.eyeMm[2], 0);
  });

  it.each([
    ['optical disc', DISC, 0.5],
    ['2 euro coin', COIN, 0.3],
  ] as const)('measures a circle beside an %s within its interval', (_, reference, noisePx) => {
    const truth = viewUnder(0.9, reference);
    const far = circle([100, 10], 40, 12).map((point) => imageFromTable(truth, point, 0));
    let within = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const found = viewFromRim(truth, reference, noisePx, seed);
      if (!found) continue;
      const { values, covariance } = propagate(found, [], (view) => {
        const points = far.map((pixel) => tableFromImage(view, pixel, 0) as TablePoint);
        const widths = [0, 1, 2, 3, 4, 5].map((i) =>
          Math.hypot(points[i + 6][0] - points[i][0], points[i + 6][1] - points[i][1]),
        );
        return [widths.reduce((sum, width) => sum + width / 6, 0)];
      });
      if (Math.abs(values[0] - 80) < 1.96 * Math.sqrt(covariance[0][0])) within++;
    }
    // 95 % of 40, less two standard deviations of chance
    expect(within).toBeGreaterThanOrEqual(35);
  });

  it('needs six points of the rim', () => {
    const focalPrior = { focalPx: 1500, relativeSd: 0.02, source: 'exif' } as const;
    const rimPx: ImagePoint[] = [
      [0, 0],
      [10, 0],
      [10, 10],
    ];
    const input = { rimPx, pointSdPx: 1, reference: COIN, focalPrior, ...SIZE, looksCropped: false };
    expect(roundTableView(input)).toBeNull();
  });
});

describe('a disc of crochet beside an optical disc', () => {
  it('is measured within its uncertainty', () => {
    const { disc } = randomDisc(521);
    const picture = takePicture(randomScene(521, disc, DISC, [800, 600]));
    const { photo, rimPx } = picture;
    const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
    const result = measureDisc({
      photo,
      reference: seenRound(photo, rimPx, 0.5, DISC, focalPrior),
      stitches: disc.stitches,
    });
    expect(result.outcome).toBe('measured');
    if (result.outcome !== 'measured') return;
    const { value, sd } = result.disc.meanDiameterMm;
    expect(Math.abs(value - disc.meanDiameterMm)).toBeLessThan(3 * sd);
    expect(Math.abs(value / disc.meanDiameterMm - 1)).toBeLessThan(0.04);
  });
});
