import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fitContainer, type PhotoSight } from '../../../vision/container/fit-container.ts';
import { toMeasurement } from '../../../vision/container/to-measurement.ts';
import { projectPoint } from '../../../vision/geometry/camera-ray.ts';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import { add, multiply, multiplyTransposed } from '../../../vision/geometry/linear3.ts';
import { outlineFromPolygon } from '../../../vision/outline/outline-from-polygon.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import type { CardSide } from '../../../vision/sighting.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';
import { type SampleTruth, sampleTruth } from '../../support/truth.ts';

const NAMES = readdirSync('sample-images')
  .filter((name) => name.endsWith('.json'))
  .map((name) => name.replace('.json', ''));
const ALL = await Promise.all(NAMES.map(async (name) => ({ name, truth: await sampleTruth(name) })));
const SAMPLES = ALL.filter(({ truth }) => !truth.shouldRefuse);

/** Separates the model from the finding: card corners and outline as they truly are in the sample photos. */
describe('with true corners and outline', () => {
  for (const { name, truth } of SAMPLES) {
    it(`${name}: widest diameter and height within 1.5 %, outline within 1 px on average`, () => {
      const measurement = measured(trueSight(truth, 0, seededRandom(1)), truth);
      expect(Math.abs(measurement.maxDiameterMm.value / truth.maxDiameterMm - 1)).toBeLessThan(0.015);
      expect(Math.abs(measurement.heightMm.value / truth.heightMm - 1)).toBeLessThan(0.015);
      const gaps = measurement.outlinePx.map(([x, y]) => distanceToPolygon(x, y, truth.outlinePx));
      expect(gaps.reduce((a, b) => a + b, 0) / gaps.length).toBeLessThan(1);
    });
  }

  it('hands on a camera and a pose that put the middle of the axis where the true camera does, within 3 px of 12 MP', () => {
    for (const { name, truth } of SAMPLES) {
      const { view, heightMm } = measured(trueSight(truth, 0, seededRandom(1)), truth);
      if (!view || !truth.insidePx) throw new Error(`${name} has no view or no axis`);
      const { rotation, translationMm } = view.cameraFromContainer;
      const [base, top] = [0, heightMm.value].map((zMm) => {
        const [x, y, z] = add(multiply(rotation, [0, 0, zMm]), translationMm);
        return projectPoint(view.camera, x, y, z);
      });
      const offPx = Math.hypot((base[0] + top[0]) / 2 - truth.insidePx[0], (base[1] + top[1]) / 2 - truth.insidePx[1]);
      expect(offPx * (4000 / Math.max(truth.imageWidthPx, truth.imageHeightPx)), name).toBeLessThan(3);
      expect(multiplyTransposed(rotation, multiply(rotation, [1, 2, 3]))[2], 'a rotation').toBeCloseTo(3, 9);
    }
  });

  it('the 95 % intervals cover nine in ten of the true sizes, as they are and with 1 px of noise', () => {
    let covered = 0;
    let count = 0;
    for (const noisePx of [0, 1]) {
      SAMPLES.forEach(({ truth }, i) => {
        const { maxDiameterMm, heightMm } = measured(trueSight(truth, noisePx, seededRandom(50 + i)), truth);
        for (const [{ low95, high95 }, size] of [
          [maxDiameterMm, truth.maxDiameterMm],
          [heightMm, truth.heightMm],
        ] as const) {
          count++;
          if (low95 <= size && size <= high95) covered++;
        }
      });
    }
    expect(covered / count).toBeGreaterThanOrEqual(0.9);
  });
});

function measured(sight: PhotoSight, { arrangement }: SampleTruth) {
  const result = fitContainer(sight, { arrangement });
  if (!result.ok) throw new Error(result.reason);
  return toMeasurement(result.fit);
}

/** True corners and outline polygon are good to about 0.2 and 0.3 px (simplified outlines); more with noise added. */
function trueSight(truth: SampleTruth, noisePx: number, random: SeededRandom): PhotoSight {
  const { imageWidthPx, imageHeightPx, arrangement, cornersPx } = truth;
  const inFront = arrangement === 'card-on-front' || arrangement === 'card-leaning';
  const outline = outlineFromPolygon(truth.outlinePx, {
    imageWidthPx,
    imageHeightPx,
    sdPx: Math.hypot(0.3, noisePx),
    spacingPx: 8,
    cardInFrontPx: inFront ? cornersPx : undefined,
  });
  const points = outline.points.map((p) => {
    const off = random.normal(noisePx);
    return { ...p, xPx: p.xPx + off * p.normalX, yPx: p.yPx + off * p.normalY };
  });
  const corners = cornersPx.map(([x, y]) => [x + random.normal(noisePx), y + random.normal(noisePx)]);
  const side: CardSide = { edgePointsPx: [], sdPx: Math.hypot(0.2, noisePx / Math.SQRT2) };
  return {
    imageWidthPx,
    imageHeightPx,
    focalPrior: focalPriorFromLens({ focal35Mm: truth.focal35Mm, looksCropped: false }, imageWidthPx, imageHeightPx),
    looksCropped: false,
    reference: ID1_CARD,
    card: {
      cornersPx: corners as unknown as SampleTruth['cornersPx'],
      sides: [side, side, side, side],
      longSide: truth.longSide,
      score: 1,
    },
    outline: { ...outline, points },
  };
}

function distanceToPolygon(x: number, y: number, polygon: SampleTruth['outlinePx']): number {
  let least = Number.POSITIVE_INFINITY;
  polygon.forEach(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length];
    const length = (bx - ax) ** 2 + (by - ay) ** 2;
    const share = Math.min(Math.max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length, 0), 1);
    least = Math.min(least, Math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay)));
  });
  return least;
}
