import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import { measureAndFit, measurePhoto } from '../../vision/measure-photo.ts';
import { liveOpenCvObjects } from '../../vision/opencv/mat-scope.ts';
import {
  engine,
  expectTruthInErrorBars,
  measured,
  openSample,
  sampleMeasurement,
} from '../support/measured-samples.ts';

const SAMPLES = readdirSync('sample-images').filter((name) => name.endsWith('.jpg'));

describe('measurePhoto on the sample photos (exact truth beside each)', () => {
  it.each(SAMPLES)('%s: found without help, and the truth lies in its error bars', expectTruthInErrorBars);

  it('frees every OpenCV object it made, however often it runs', async () => {
    const photo = await openSample(SAMPLES[0]);
    for (let run = 0; run < 5; run += 1) await measurePhoto(engine, photo);
    expect(liveOpenCvObjects()).toBe(0);
  });

  it('follows a corner moved by hand to the sizes that measuring afresh gives', async () => {
    const photo = await openSample('tumbler-standing-on-dark-desk.jpg');
    const found = measureAndFit(engine, photo, {}, () => {});
    const { card, outlinePx, arrangement } = measured(found.result);
    const { cornersPx } = card;
    let { fit } = found;
    for (let movedPx = 1; movedPx <= 6; movedPx += 1) {
      const [[x, y], ...others] = cornersPx;
      const placed = { arrangement, outlinePx, cornersPx: [[x - movedPx, y], ...others] as unknown as CornersPx };
      const followed = measureAndFit(engine, photo, placed, () => {}, fit);
      const afresh = measured(await measurePhoto(engine, photo, placed));
      const { maxDiameterMm, heightMm } = measured(followed.result);
      expect(Math.abs(maxDiameterMm.value - afresh.maxDiameterMm.value)).toBeLessThan(0.3 * afresh.maxDiameterMm.sd);
      expect(Math.abs(heightMm.value - afresh.heightMm.value)).toBeLessThan(0.3 * afresh.heightMm.sd);
      fit = followed.fit;
    }
  });

  it.each(['tumbler-lying-on-planks.jpg', 'jam-jar-lying-on-linen.jpg'])(
    '%s: either end can be told to be the base; width and height stay',
    async (name) => {
      const photo = await openSample(name);
      const found = await sampleMeasurement(name);
      const [basePx, topPx] = found.axisPx;
      const turned = measured(await measurePhoto(engine, photo, { baseNearPx: topPx }));
      const back = measured(await measurePhoto(engine, photo, { baseNearPx: basePx }));
      expect(Math.hypot(turned.axisPx[0][0] - topPx[0], turned.axisPx[0][1] - topPx[1])).toBeLessThan(5);
      expect(Math.abs(turned.maxDiameterMm.value - found.maxDiameterMm.value)).toBeLessThan(found.maxDiameterMm.sd / 4);
      expect(Math.abs(turned.heightMm.value - found.heightMm.value)).toBeLessThan(found.heightMm.sd / 4);
      expect(turned.baseDiameterMm?.value).not.toBeCloseTo(found.baseDiameterMm?.value ?? 0, 0);
      expect(back.baseDiameterMm?.value).toBeCloseTo(found.baseDiameterMm?.value ?? 0, 6);
    },
  );
});
