import { readdirSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import sharp from 'sharp';
import { type Engine, measurePhoto } from '../../vision/measure-photo.ts';
import { liveOpenCvObjects, MatScope } from '../../vision/opencv/mat-scope.ts';
import { seededRandom } from './seeded-random.ts';

/** What the process holds after so many photos, the garbage collected. */
export interface MemoryUse {
  readonly photos: number;
  readonly liveOpenCvObjects: number;
  /** Where a fresh large block comes to lie in OpenCV's heap: below it is what is in use, leaks included. */
  readonly openCvInUseMb: number;
  readonly jsHeapMb: number;
  readonly residentMb: number;
}

/**
 * Measures the sample photos over and over, each time at another size (seeded), so that no buffer fits the last one.
 * @param longSidePx  of the largest photos; the smallest have half of it
 */
export async function* memoryOverPhotos(
  engine: Engine,
  options: { readonly photos: number; readonly every: number; readonly longSidePx: number; readonly seed: number },
): AsyncGenerator<MemoryUse> {
  const files = readdirSync('sample-images').filter((name) => name.endsWith('.jpg'));
  const random = seededRandom(options.seed);
  for (let count = 1; count <= options.photos; count += 1) {
    const side = Math.round(options.longSidePx * random.uniform(0.5, 1));
    const { data, info } = await sharp(`sample-images/${files[count % files.length]}`)
      .rotate()
      .resize(side, side, { fit: 'inside' })
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const lens = { focal35Mm: null, looksCropped: false };
    await measurePhoto(engine, { widthPx: info.width, heightPx: info.height, rgba: data, lens });
    if (count % options.every === 0) yield memoryUse(engine, count);
  }
}

/** A block of 16 MB. */
const PROBE_SIDE = 4096;

setFlagsFromString('--expose-gc');
const collectGarbage: () => void = runInNewContext('gc');

function memoryUse({ cv }: Engine, photos: number): MemoryUse {
  collectGarbage();
  const live = liveOpenCvObjects();
  const { heapUsed, rss } = process.memoryUsage();
  using mats = new MatScope();
  const probe = mats.own(new cv.Mat(PROBE_SIDE, PROBE_SIDE, cv.CV_8UC1));
  const mb = (bytes: number) => bytes / 1024 ** 2;
  return {
    photos,
    liveOpenCvObjects: live,
    openCvInUseMb: mb(probe.data.byteOffset),
    jsHeapMb: mb(heapUsed),
    residentMb: mb(rss),
  };
}
