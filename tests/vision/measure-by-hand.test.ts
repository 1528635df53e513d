import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import { handlesOf, placementOf, pulled } from '../../vision/container/solid-handles.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { type Engine, measureAndFit } from '../../vision/measure-photo.ts';
import type { Measurement, MeasureResult } from '../../vision/measurement.ts';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { sampleTruth } from '../support/truth.ts';

const NAME = 'jar-standing-on-linen';
const HAND_SD_PX = 6;

describe('a photo put right by hand', () => {
  let engine: Engine;
  let photo: Photo;
  let found: Measurement;
  const measure = (hand: readonly HandPlacement[]): MeasureResult =>
    measureAndFit(engine, photo, { hand }, () => {}).result;

  beforeAll(async () => {
    const { cv } = await loadOpenCv();
    const weights = await readFile(new URL('../../vision/network/outline-model.onnx', import.meta.url));
    engine = { cv, outlineModel: loadOutlineModel(cv, weights) };
    photo = (await decodePhotoFile(`sample-images/${NAME}.jpg`)) as Photo;
    const { result } = measureAndFit(engine, photo, {}, () => {});
    if (result.outcome === 'refused') throw new Error(result.reason.code);
    found = result.measurement;
  });

  it('has the truth inside after a top edge was let go six pixels off, and says what was placed', async () => {
    const { heightMm, maxDiameterMm } = await sampleTruth(NAME);
    const result = measure([letGo(found, 'top-edge', HAND_SD_PX)]);
    if (result.outcome === 'refused') throw new Error(result.reason.code);
    const { measurement } = result;
    expect(measurement.placedByHand).toEqual(['top-edge']);
    expect(measurement.heightMm.low95).toBeLessThan(heightMm);
    expect(measurement.heightMm.high95).toBeGreaterThan(heightMm);
    expect(measurement.maxDiameterMm.low95).toBeLessThan(maxDiameterMm);
    expect(measurement.maxDiameterMm.high95).toBeGreaterThan(maxDiameterMm);
  });

  it('asks once more when a hand has left clear edges far behind', () => {
    const careless = measure([letGo(found, 'top-edge', 12 * HAND_SD_PX)]);
    expect(careless.warnings.map(({ code }) => code)).toContain('hand-against-edges');
    const careful = measure([letGo(found, 'top-edge', 0.5 * HAND_SD_PX)]);
    expect(careful.warnings.map(({ code }) => code)).not.toContain('hand-against-edges');
  });

  it('hardly changes when a stretch of a clear outline is left out', () => {
    const wall = handlesOf({ view: found.view as NonNullable<Measurement['view']>, profile: found.profile }).find(
      ({ feature, share }) => feature === 'wall' && share === 0.5,
    );
    const result = measure([{ feature: 'left-out', pathPx: [wall?.atPx as ImagePoint], radiusPx: 60 }]);
    if (result.outcome === 'refused') throw new Error(result.reason.code);
    const { low95, high95 } = found.maxDiameterMm;
    expect(result.measurement.maxDiameterMm.value).toBeGreaterThan(low95);
    expect(result.measurement.maxDiameterMm.value).toBeLessThan(high95);
  });
});

function letGo({ view, profile }: Measurement, feature: string, offPx: number): HandPlacement {
  const solid = { view: view as NonNullable<Measurement['view']>, profile };
  const handle = handlesOf(solid).find((each) => each.feature === feature);
  if (!handle) throw new Error(`nothing to hold: ${feature}`);
  const [nx, ny] = handle.normal;
  const toPx: ImagePoint = [handle.atPx[0] + offPx * nx, handle.atPx[1] + offPx * ny];
  return placementOf(handle, pulled(solid, handle, toPx), toPx, HAND_SD_PX);
}
