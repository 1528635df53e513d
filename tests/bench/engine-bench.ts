import { readFile } from 'node:fs/promises';
import { performance } from 'node:perf_hooks';
import sharp from 'sharp';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { fitContainer, type PhotoSight } from '../../vision/container/fit-container.ts';
import { focalPriorFromLens } from '../../vision/geometry/focal-prior.ts';
import { measurePhoto } from '../../vision/measure-photo.ts';
import { coarseSighting } from '../../vision/network/coarse-sighting.ts';
import { lookTurned } from '../../vision/network/look-any-way-up.ts';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { findOutlines } from '../../vision/outline/find-outlines.ts';
import { lookCloser } from '../../vision/outline/look-closer.ts';
import { outlineFromPolygon } from '../../vision/outline/outline-from-polygon.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { chooseCard } from '../../vision/reference/choose-card.ts';
import { findCards } from '../../vision/reference/find-card.ts';
import { placeCard } from '../../vision/reference/place-card.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { sampleTruth } from '../support/truth.ts';
import { type Timing, timingOf } from './timing.ts';
import { BENCH_SAMPLES, twelveMegapixelFile } from './twelve-megapixels.ts';

const RUNS = 7;

/** Each stage of the engine in Node, after one warm-up run; medians over all samples and runs. */
export async function benchEngine(): Promise<Timing[]> {
  const { cv } = await loadOpenCv();
  const outlineModel = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
  const engine = { cv, outlineModel };
  const files = await Promise.all(BENCH_SAMPLES.map(twelveMegapixelFile));
  const photos = await Promise.all(files.map(decode));
  const looks = photos.map((photo) => {
    const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
    const coarse = coarseSighting(outlineModel, photo);
    const [a, b, c, d] = coarse.cardCornersPx?.map(({ atPx }) => atPx) ?? [];
    const known = { focalPrior, reference: ID1_CARD, hint: a && { cornersPx: [a, b, c, d] as const } };
    return { photo, coarse, ...known, choice: chooseCard(findCards(cv, photo, known)) };
  });
  const sights = await Promise.all(BENCH_SAMPLES.map(trueSight));
  const fits = sights.map(({ sight, arrangement }) => fitContainer(sight, { arrangement }));
  const bottle = containerFromTape({ diameterMm: 73, heightMm: 210 });
  return [
    await time('decode 12 megapixels', null, files, decode),
    await time('coarse look by the network', null, photos, (photo) => coarseSighting(outlineModel, photo)),
    await time('find the card, 12 megapixels', 250, looks, ({ photo, ...known }) => findCards(cv, photo, known)),
    await time('find the card without the network', null, looks, ({ photo, focalPrior, reference }) =>
      findCards(cv, photo, { focalPrior, reference }),
    ),
    await time('find the outline, 12 megapixels', 600, looks, ({ photo, coarse, ...known }) => {
      if (!('card' in known.choice)) throw new Error('No card in a sample photo.');
      const closer = lookCloser(cv, lookTurned(outlineModel, 0), photo, coarse, undefined);
      return findOutlines(cv, photo, { ...known, card: known.choice.card, coarse: closer });
    }),
    await time('whole photo, 12 megapixels, decoded', 1500, photos, async (photo) => {
      const { outcome } = await measurePhoto(engine, photo);
      if (outcome !== 'measured') throw new Error('A sample photo enlarged to 12 megapixels was not measured.');
    }),
    await time('fit from scratch', 60, sights, ({ sight, arrangement }) => fitContainer(sight, { arrangement })),
    await time('refit from a nearby start', 20, fits, (fit, k) => {
      const { sight, arrangement } = sights[k];
      return fitContainer(sight, { arrangement, start: fit.ok ? fit.fit : undefined });
    }),
    await time('plan', 5, [bottle], (container) => planCarrier(container, defaultGauge(), defaultChoices())),
  ];
}

async function time<T>(
  stage: string,
  targetMs: number | null,
  inputs: readonly T[],
  job: (input: T, index: number) => unknown,
): Promise<Timing> {
  const tookMs: number[] = [];
  for (let run = -1; run < RUNS; run += 1) {
    for (const [index, input] of inputs.entries()) {
      const start = performance.now();
      await job(input, index);
      if (run >= 0) tookMs.push(performance.now() - start);
    }
  }
  return timingOf(stage, tookMs, targetMs);
}

async function decode(file: Buffer): Promise<Photo> {
  const { data, info } = await sharp(file).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, rgba: data, lens: { focal35Mm: null, looksCropped: false } };
}

async function trueSight(name: string): Promise<{ sight: PhotoSight; arrangement: 'standing' | 'lying' }> {
  const truth = await sampleTruth(name);
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
