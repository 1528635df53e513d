import { describe, expect, it } from 'vitest';
import { measurePhoto } from '../../vision/measure-photo.ts';
import { liveOpenCvObjects } from '../../vision/opencv/mat-scope.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { readTruth } from '../../web/commands/truth.ts';
import { engine, expectInside, expectTruthInErrorBars, measured, openSample } from '../support/measured-samples.ts';

const TUMBLER = 'tumbler-standing-on-dark-desk.jpg';

describe('measurePhoto on the sample photos (exact truth beside each)', () => {
  // The other samples: measure-photo.long.test.ts
  it.each([TUMBLER, 'jam-jar-lying-on-linen.jpg'])(
    '%s: found without help, and the truth lies in its error bars',
    expectTruthInErrorBars,
  );

  it('goes through card, outline and container, in this order, and frees every OpenCV object it made', async () => {
    const stages: string[] = [];
    const before = liveOpenCvObjects();
    await measurePhoto(engine, await openSample(TUMBLER), {}, (stage) => stages.push(stage));
    expect(stages).toEqual(['card', 'outline', 'container']);
    expect(liveOpenCvObjects()).toBe(before);
  });

  it('measures from placed corners and outline alone, without a pixel', async () => {
    const name = TUMBLER;
    const truth = await readTruth(`sample-images/${name}`);
    const { rgba: _, ...facts } = await openSample(name);
    const placed = { cornersPx: truth?.cornersPx ?? undefined, outlinePx: truth?.outlinePx ?? undefined };
    const measurement = measured(await measurePhoto(engine, { ...facts, rgba: new Uint8Array(0) }, placed));
    expectInside(measurement.maxDiameterMm, truth?.maxDiameterMm ?? 0);
    expectInside(measurement.heightMm, truth?.heightMm ?? 0);
  });

  it('measures nothing when the network could not be loaded, and leaves the outline to be placed', async () => {
    const result = await measurePhoto({ ...engine, outlineModel: null }, await openSample(TUMBLER));
    expect(result.outcome === 'refused' && result.reason.code).toBe('not-recognised');
    expect(result.outcome === 'refused' && result.found.cornersPx).not.toBeNull();
  });
});

describe('measurePhoto on pictures with nothing to measure', () => {
  it.each([
    ['black', 0],
    ['grey', 128],
    ['white', 255],
  ])('refuses an all-%s picture with a reason and a way out', async (_, level) => {
    const rgba = new Uint8Array(4 * 640 * 480).fill(level);
    const blank: Photo = { widthPx: 640, heightPx: 480, rgba, lens: { focal35Mm: 26, looksCropped: false } };
    const result = await measurePhoto(engine, blank);
    expect(result.outcome).toBe('refused');
    expect(result.outcome === 'refused' && result.reason.message.length).toBeGreaterThan(20);
    expect(result.outcome === 'refused' && result.found.cornersPx).toBeNull();
  });

  it.each([
    [1, 1],
    [3, 2000],
    [40, 30],
  ])('refuses a picture of %d × %d pixels', async (widthPx, heightPx) => {
    const rgba = new Uint8Array(4 * widthPx * heightPx).fill(90);
    const lens = { focal35Mm: null, looksCropped: true };
    expect((await measurePhoto(engine, { widthPx, heightPx, rgba, lens })).outcome).toBe('refused');
  });
});
