import { readFile } from 'node:fs/promises';
import { cpus } from 'node:os';
import { performance } from 'node:perf_hooks';
import sharp from 'sharp';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { findCards } from '../../vision/card/find-card.ts';
import { placeCard } from '../../vision/card/place-card.ts';
import { measurePhoto } from '../../vision/measure-photo.ts';
import { fitContainer, type PhotoSight } from '../../vision/model/fit-container.ts';
import { focalPriorFromLens } from '../../vision/model/focal-prior.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { outlineFromPolygon } from '../../vision/outline/outline-from-polygon.ts';
import { loadOutlineModel } from '../../vision/outline-model/outline-model.ts';
import type { Photo } from '../../vision/photo.ts';
import { ID1_CARD } from '../../vision/reference.ts';
import { readTruth } from '../../web/commands/truth.ts';

const HELP = `Times each stage of the engine: medians over seeded inputs, beside their targets.

npm run --silent bench -- [--json] [--help]
`;
if (process.argv.includes('--help')) {
  process.stdout.write(HELP);
  process.exit(0);
}

const SAMPLES = ['jar-standing-on-linen', 'tumbler-standing-on-dark-desk', 'jam-jar-lying-on-linen'];
const RUNS = 7;

interface Timing {
  readonly stage: string;
  readonly medianMs: number;
  readonly minMs: number;
  readonly maxMs: number;
  readonly targetMs: number | null;
}

const timings: Timing[] = [];

/** Times a stage after one warm-up run; the median over all samples and runs. */
async function time(stage: string, targetMs: number | null, jobs: readonly (() => unknown)[]): Promise<void> {
  const took: number[] = [];
  for (const job of jobs) await job();
  for (let run = 0; run < RUNS; run += 1) {
    for (const job of jobs) {
      const start = performance.now();
      await job();
      took.push(performance.now() - start);
    }
  }
  took.sort((a, b) => a - b);
  timings.push({ stage, medianMs: took[took.length >> 1], minMs: took[0], maxMs: took[took.length - 1], targetMs });
}

/** A sample photo enlarged to 12 megapixels, as a phone makes them. */
async function twelveMegapixels(name: string): Promise<{ file: Buffer; photo: Photo }> {
  const { data, info } = await sharp(`sample-images/${name}.jpg`).rotate().toBuffer({ resolveWithObject: true });
  const landscape = info.width > info.height;
  const file = await sharp(data)
    .resize(landscape ? 4032 : 3024, landscape ? 3024 : 4032, { fit: 'fill' })
    .jpeg({ quality: 90 })
    .toBuffer();
  return { file, photo: await decode(file) };
}

async function decode(file: Buffer): Promise<Photo> {
  const { data, info } = await sharp(file).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, rgba: data, lens: { focal35Mm: null, looksCropped: false } };
}

async function trueSight(name: string): Promise<{ sight: PhotoSight; arrangement: 'standing' | 'lying' }> {
  const truth = await readTruth(`sample-images/${name}.jpg`);
  if (!truth?.cornersPx || !truth.outlinePx) throw new Error(`${name} has no truth`);
  const { width: imageWidthPx = 0, height: imageHeightPx = 0 } = await sharp(`sample-images/${name}.jpg`).metadata();
  const focalPrior = focalPriorFromLens({ focal35Mm: null, looksCropped: false }, imageWidthPx, imageHeightPx);
  const card = placeCard(truth.cornersPx, {
    widthPx: imageWidthPx,
    heightPx: imageHeightPx,
    focalPrior,
    reference: ID1_CARD,
    sdPx: 0.3,
  });
  if (!card) throw new Error(`${name}: the true corners are no card`);
  const outline = outlineFromPolygon(truth.outlinePx, { imageWidthPx, imageHeightPx, sdPx: 0.5, spacingPx: 6 });
  const sight = { imageWidthPx, imageHeightPx, focalPrior, looksCropped: false, reference: ID1_CARD, card, outline };
  return { sight, arrangement: truth.arrangement === 'lying' ? 'lying' : 'standing' };
}

const { cv } = await loadOpenCv();
const weights = await readFile('vision/outline-model/outline-model.onnx');
const engine = { cv, outlineModel: loadOutlineModel(cv, weights) };
const photos = await Promise.all(SAMPLES.map(twelveMegapixels));
await time(
  'decode 12 megapixels',
  null,
  photos.map(
    ({ file }) =>
      () =>
        decode(file),
  ),
);
await time(
  'find the card, 12 megapixels',
  250,
  photos.map(({ photo }) => () => {
    const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
    return findCards(cv, photo, { focalPrior, reference: ID1_CARD });
  }),
);
await time(
  'whole photo, 12 megapixels, decoded',
  1500,
  photos.map(
    ({ photo }) =>
      () =>
        measurePhoto(engine, photo),
  ),
);
const sights = await Promise.all(SAMPLES.map(trueSight));
await time(
  'fit from scratch',
  60,
  sights.map(
    ({ sight, arrangement }) =>
      () =>
        fitContainer(sight, { arrangement }),
  ),
);
const fits = sights.map(({ sight, arrangement }) => fitContainer(sight, { arrangement }));
await time(
  'refit from a nearby start',
  20,
  sights.map(({ sight, arrangement }, k) => () => {
    const start = fits[k];
    return fitContainer(sight, { arrangement, start: start.ok ? start.fit : undefined });
  }),
);
const bottle = containerFromTape({ diameterMm: 73, heightMm: 210 });
await time('plan', 5, [() => planCarrier(bottle, defaultGauge(), defaultChoices())]);

if (process.argv.includes('--json')) {
  process.stdout.write(`${JSON.stringify({ cpu: cpus()[0]?.model, cores: cpus().length, timings })}\n`);
} else {
  process.stdout.write(`${cpus().length} × ${cpus()[0]?.model}\n   median      min      max   target  stage\n`);
  for (const { stage, medianMs, minMs, maxMs, targetMs } of timings) {
    const ms = [medianMs, minMs, maxMs].map((value) => `${value.toFixed(1)}`.padStart(9)).join('');
    process.stdout.write(`${ms}${(targetMs === null ? '' : String(targetMs)).padStart(9)}  ${stage}\n`);
  }
}
