import { expect } from 'vitest';
import type { Estimate } from '../../vision/estimate.ts';
import { measurePhoto } from '../../vision/measure-photo.ts';
import type { Measurement } from '../../vision/measurement.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { loadEngine } from '../../web/commands/measure-file.ts';
import { readTruth } from '../../web/commands/truth.ts';

/** One engine for all tests of a worker. */
export const engine = await loadEngine();

const found = new Map<string, Promise<Measurement>>();

/** What is found in a sample photo without help; measured once, however many tests ask. */
export function sampleMeasurement(name: string): Promise<Measurement> {
  const known = found.get(name) ?? openSample(name).then((photo) => measurePhoto(engine, photo).then(measured));
  found.set(name, known);
  return known;
}

/** Found without help, and the truth lies in its error bars. */
export async function expectTruthInErrorBars(name: string): Promise<void> {
  const truth = await readTruth(`sample-images/${name}`);
  const measurement = await sampleMeasurement(name);
  expect(measurement.arrangement).toBe(truth?.arrangement);
  for (const [size, trueMm] of [
    [measurement.maxDiameterMm, truth?.maxDiameterMm],
    [measurement.baseDiameterMm, truth?.baseDiameterMm],
    [measurement.heightMm, truth?.heightMm],
  ] as const) {
    if (size) expectInside(size, trueMm ?? 0);
  }
  expect(measurement.maxDiameterMm.sd / measurement.maxDiameterMm.value).toBeLessThan(0.03);
}

export async function openSample(name: string): Promise<Photo> {
  const photo = await decodePhotoFile(`sample-images/${name}`);
  if (!photo) throw new Error(`${name} cannot be read`);
  return photo;
}

export function measured(result: Awaited<ReturnType<typeof measurePhoto>>): Measurement {
  if (result.outcome === 'refused') throw new Error(`refused: ${result.reason.code}`);
  return result.measurement;
}

export function expectInside({ low95, high95 }: Estimate, trueMm: number): void {
  expect(trueMm).toBeGreaterThanOrEqual(low95);
  expect(trueMm).toBeLessThanOrEqual(high95);
}
