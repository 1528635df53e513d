import { readFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { type MemoryUse, memoryOverPhotos } from '../support/memory-over-photos.ts';

it('measuring photo after photo leaves no OpenCV object behind and lets no heap grow', async () => {
  const { cv } = await loadOpenCv();
  const outlineModel = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
  const uses: MemoryUse[] = [];
  const options = { photos: 16, every: 8, longSidePx: 1000, seed: 3 };
  for await (const use of memoryOverPhotos({ cv, outlineModel }, options)) uses.push(use);
  expect(uses.map(({ liveOpenCvObjects }) => liveOpenCvObjects)).toEqual([0, 0]);
  // every photo has passed once after the first 8; once more must need no more
  const [after8, after16] = uses;
  expect(after16.openCvInUseMb).toBeLessThan(after8.openCvInUseMb + 1);
  expect(after16.jsHeapMb - after8.jsHeapMb).toBeLessThan(2);
});
