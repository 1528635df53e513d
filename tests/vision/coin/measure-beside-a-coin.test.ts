import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ImagePoint } from '../../../vision/frames.ts';
import { type Engine, type MeasureOptions, measurePhoto } from '../../../vision/measure-photo.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { loadOutlineModel } from '../../../vision/outline-model/outline-model.ts';
import type { Photo } from '../../../vision/photo.ts';
import { parseRoundReference } from '../../../vision/round-reference.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { readTruth, type Truth } from '../../../web/commands/truth.ts';

const NAME = 'sample-images/coin/tin-standing-beside-a-coin';
const reference = parseRoundReference('2 euro') ?? undefined;
let engine: Engine;
let photo: Photo;
let truth: Truth;
let rimPx: readonly ImagePoint[];

beforeAll(async () => {
  const { cv } = await loadOpenCv();
  engine = { cv, outlineModel: loadOutlineModel(cv, await readFile('vision/outline-model/outline-model.onnx')) };
  photo = (await decodePhotoFile(`${NAME}.jpg`)) as Photo;
  truth = (await readTruth(`${NAME}.jpg`)) as Truth;
  rimPx = JSON.parse(await readFile(`${NAME}.json`, 'utf8')).round.rim_px;
});

const measure = (options: MeasureOptions) => measurePhoto(engine, photo, { reference, ...options });
const middleOf = (points: readonly ImagePoint[]): ImagePoint => [
  points.reduce((sum, [x]) => sum + x, 0) / points.length,
  points.reduce((sum, [, y]) => sum + y, 0) / points.length,
];

describe('a sample photo of a tin beside a coin', () => {
  it.each([
    ['the coin found', () => ({})],
    ['the coin tapped', () => ({ referencePx: middleOf(rimPx) })],
    ['the rim placed by hand', () => ({ rimPx })],
  ] as const)('is measured within its interval with %s, and says by what', async (_, options) => {
    const result = await measure(options());
    if (result.outcome === 'refused') throw new Error(result.reason.code);
    const { maxDiameterMm, heightMm, card, arrangement } = result.measurement;
    expect(arrangement).toBe('standing');
    expect(card.reference).toBe('2 euro');
    for (const [size, trueMm] of [
      [maxDiameterMm, truth.maxDiameterMm],
      [heightMm, truth.heightMm],
    ] as const) {
      expect(size.low95).toBeLessThan(trueMm);
      expect(size.high95).toBeGreaterThan(trueMm);
    }
    const [x, y] = middleOf(card.cornersPx);
    const [trueX, trueY] = middleOf(rimPx);
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
    const result = await measure(options as MeasureOptions);
    expect(result.outcome === 'refused' && result.reason.code).toBe(code);
  });
});
