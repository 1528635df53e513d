import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { type Engine, type MeasureOptions, measurePhoto } from '../../../vision/measure-photo.ts';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { parseRoundReference } from '../../../vision/reference/round-reference.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { readTruth, type Truth } from '../../../web/commands/truth.ts';

const FOLDER = 'sample-images/coin';
const STANDING = 'tin-standing-beside-a-coin';
const LYING = 'small-bottle-lying-beside-a-coin';
const reference = parseRoundReference('2 euro') ?? undefined;
let engine: Engine;

beforeAll(async () => {
  const { cv } = await loadOpenCv();
  engine = { cv, outlineModel: loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx')) };
});

interface Sample {
  readonly photo: Photo;
  readonly truth: Truth;
  readonly rimPx: readonly ImagePoint[];
}

async function sample(name: string): Promise<Sample> {
  const photo = await decodePhotoFile(`${FOLDER}/${name}.jpg`);
  const truth = await readTruth(`${FOLDER}/${name}.jpg`);
  if (!photo || !truth) throw new Error(`${name} is no sample`);
  const rimPx = JSON.parse(await readFile(`${FOLDER}/${name}.json`, 'utf8')).round.rim_px;
  return { photo, truth, rimPx };
}

const measure = ({ photo }: Sample, options: MeasureOptions) => measurePhoto(engine, photo, { reference, ...options });
const middleOf = (points: readonly ImagePoint[]): ImagePoint => [
  points.reduce((sum, [x]) => sum + x, 0) / points.length,
  points.reduce((sum, [, y]) => sum + y, 0) / points.length,
];

describe('a sample photo of a container beside a coin', () => {
  it.each([
    ['the coin found, standing', STANDING, () => ({})],
    ['the coin found, lying', LYING, () => ({})],
    ['the coin tapped', STANDING, ({ rimPx }: Sample) => ({ referencePx: middleOf(rimPx) })],
    ['the rim placed by hand', STANDING, ({ rimPx }: Sample) => ({ rimPx })],
  ] as const)('is measured within its interval with %s, and says by what', async (_, name, options) => {
    const seen = await sample(name);
    const result = await measure(seen, options(seen));
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
  });

  it.each([
    ['where something else is tapped', 'no-round-reference', { referencePx: [800, 100] }],
    ['when the coin is said to lean', 'round-not-on-table', { arrangement: 'card-leaning' }],
    [
      'when the rim is placed along a line',
      'no-round-reference',
      { rimPx: [100, 120, 140, 160, 180, 200].map((x) => [x, 50]) },
    ],
  ] as const)('is refused %s, with the way out', async (_, code, options) => {
    const result = await measure(await sample(STANDING), options as MeasureOptions);
    expect(result.outcome === 'refused' && result.reason.code).toBe(code);
  });
});
