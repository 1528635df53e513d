import { readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Estimate } from '../../vision/estimate.ts';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import { type Engine, measureAndFit, measurePhoto } from '../../vision/measure-photo.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { liveOpenCvObjects } from '../../vision/opencv/mat-scope.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { readTruth } from '../../web/commands/truth.ts';

const SAMPLES = readdirSync('sample-images').filter((name) => name.endsWith('.jpg'));
let engine: Engine;

beforeAll(async () => {
  const { cv } = await loadOpenCv();
  engine = { cv, outlineModel: loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx')) };
});

describe('measurePhoto on the sample photos (exact truth beside each)', () => {
  it.each(SAMPLES)('%s: found without help, and the truth lies in its error bars', async (name) => {
    const photo = await open(name);
    const truth = await readTruth(`sample-images/${name}`);
    const measurement = measured(await measurePhoto(engine, photo));
    expect(measurement.arrangement).toBe(truth?.arrangement);
    for (const [size, trueMm] of [
      [measurement.maxDiameterMm, truth?.maxDiameterMm],
      [measurement.baseDiameterMm, truth?.baseDiameterMm],
      [measurement.heightMm, truth?.heightMm],
    ] as const) {
      if (size) expectInside(size, trueMm ?? 0);
    }
    expect(measurement.maxDiameterMm.sd / measurement.maxDiameterMm.value).toBeLessThan(0.03);
  });

  it('frees every OpenCV object it made, however often it runs', async () => {
    const photo = await open(SAMPLES[0]);
    for (let run = 0; run < 5; run += 1) await measurePhoto(engine, photo);
    expect(liveOpenCvObjects()).toBe(0);
  });

  it('goes through card, outline and container, in this order', async () => {
    const stages: string[] = [];
    await measurePhoto(engine, await open(SAMPLES[0]), {}, (stage) => stages.push(stage));
    expect(stages).toEqual(['card', 'outline', 'container']);
  });

  it('measures from placed corners and outline alone, without a pixel', async () => {
    const name = 'tumbler-standing-on-dark-desk.jpg';
    const truth = await readTruth(`sample-images/${name}`);
    const { rgba: _, ...facts } = await open(name);
    const placed = { cornersPx: truth?.cornersPx ?? undefined, outlinePx: truth?.outlinePx ?? undefined };
    const measurement = measured(await measurePhoto(engine, { ...facts, rgba: new Uint8Array(0) }, placed));
    expectInside(measurement.maxDiameterMm, truth?.maxDiameterMm ?? 0);
    expectInside(measurement.heightMm, truth?.heightMm ?? 0);
  });

  it('follows a corner moved by hand to the sizes that measuring afresh gives', async () => {
    const photo = await open('tumbler-standing-on-dark-desk.jpg');
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
      const photo = await open(name);
      const found = measured(await measurePhoto(engine, photo));
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

  it('proposes an outline but measures nothing when the network could not be loaded', async () => {
    const result = await measurePhoto(
      { ...engine, outlineModel: null },
      await open('tumbler-standing-on-dark-desk.jpg'),
    );
    expect(result.outcome === 'refused' && result.reason.code).toBe('not-recognised');
    expect(result.outcome === 'refused' && result.found.outlinePx?.length).toBeGreaterThan(10);
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

async function open(name: string): Promise<Photo> {
  const photo = await decodePhotoFile(`sample-images/${name}`);
  if (!photo) throw new Error(`${name} cannot be read`);
  return photo;
}

function measured(result: Awaited<ReturnType<typeof measurePhoto>>): Measurement {
  if (result.outcome === 'refused') throw new Error(`refused: ${result.reason.code}`);
  return result.measurement;
}

function expectInside({ low95, high95 }: Estimate, trueMm: number): void {
  expect(trueMm).toBeGreaterThanOrEqual(low95);
  expect(trueMm).toBeLessThanOrEqual(high95);
}
