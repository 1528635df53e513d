import { readFile } from 'node:fs/promises';
import { expect } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { type MeasureOptions, measurePhoto } from '../../../vision/measure-photo.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { parseRoundReference } from '../../../vision/reference/round-reference.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { loadEngine } from '../../../web/commands/measure-file.ts';
import { readTruth, type Truth } from '../../../web/commands/truth.ts';

const FOLDER = 'sample-images/coin';
export const STANDING = 'tin-standing-beside-a-coin';
export const LYING = 'small-bottle-lying-beside-a-coin';
const reference = parseRoundReference('2 euro') ?? undefined;
const engine = await loadEngine();

export interface Sample {
  readonly photo: Photo;
  readonly truth: Truth;
  readonly rimPx: readonly ImagePoint[];
}

export async function sample(name: string): Promise<Sample> {
  const photo = await decodePhotoFile(`${FOLDER}/${name}.jpg`);
  const truth = await readTruth(`${FOLDER}/${name}.jpg`);
  if (!photo || !truth) throw new Error(`${name} is no sample`);
  const rimPx = JSON.parse(await readFile(`${FOLDER}/${name}.json`, 'utf8')).round.rim_px;
  return { photo, truth, rimPx };
}

export const measure = ({ photo }: Sample, options: MeasureOptions) =>
  measurePhoto(engine, photo, { reference, ...options });
export const middleOf = (points: readonly ImagePoint[]): ImagePoint => [
  points.reduce((sum, [x]) => sum + x, 0) / points.length,
  points.reduce((sum, [, y]) => sum + y, 0) / points.length,
];

/** Measured within its interval, and says by what. */
export async function expectMeasured(name: string, optionsFor: (sample: Sample) => MeasureOptions): Promise<void> {
  const seen = await sample(name);
  const result = await measure(seen, optionsFor(seen));
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  const { maxDiameterMm, heightMm, card, arrangement } = result.measurement;
  expect(arrangement).toBe(seen.truth.arrangement);
  expect(card.reference).toBe('2 euro');
  for (const [size, trueMm] of [
    [maxDiameterMm, seen.truth.maxDiameterMm],
    [heightMm, seen.truth.heightMm],
  ] as const) {
    expect(size.low95).toBeLessThan(trueMm);
    expect(size.high95).toBeGreaterThan(trueMm);
  }
  const [x, y] = middleOf(card.cornersPx);
  const [trueX, trueY] = middleOf(seen.rimPx);
  expect(Math.hypot(x - trueX, y - trueY)).toBeLessThan(6);
}
