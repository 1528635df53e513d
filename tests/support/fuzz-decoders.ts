import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Engine, measurePhoto } from '../../vision/measure-photo.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { mutate, seedFiles } from './mutated-files.ts';
import { seededRandom } from './seeded-random.ts';

export interface FuzzReport {
  readonly files: number;
  readonly decoded: number;
  readonly refused: number;
  readonly measured: number;
  /** Processor time. */
  readonly slowestMs: number;
  /** Most memory the process ever held. */
  readonly peakMb: number;
  /** What went wrong, with the number that reproduces it; empty when all is well. */
  readonly failures: readonly string[];
}

/** Processor time, which a busy machine does not stretch. */
const LONGEST_MS = 10_000;
/** A photo of 100 megapixels, the largest taken, needs 1.6 GB from file to sizes. */
const MOST_MB = 2000;

/**
 * Feeds picture files to the decoder, each of the first as it is, then damaged copies; every `measureEvery`-th picture
 * that still decodes goes through the whole engine. Nothing may throw, hang, eat up the memory, or yield a number that is
 * not finite.
 */
export async function fuzzDecoders(
  files: number,
  seed: number,
  engine: Engine | null,
  measureEvery = 50,
): Promise<FuzzReport> {
  const seeds = await seedFiles();
  const folder = await mkdtemp(join(tmpdir(), 'roundwise-fuzz-'));
  const path = join(folder, 'photo');
  const failures: string[] = [];
  const heldBeforeMb = mostHeldMb();
  let [decoded, measured, slowestMs] = [0, 0, 0];
  for (let k = 0; k < files; k += 1) {
    const random = seededRandom(seed + k);
    const { name, bytes } = seeds[k % seeds.length];
    await writeFile(path, k < seeds.length ? bytes : mutate(bytes, random));
    const start = process.cpuUsage();
    try {
      const photo = await decodePhotoFile(path);
      if (photo) {
        decoded += 1;
        failures.push(...photoFaults(photo).map((fault) => `${name} ${seed + k}: ${fault}`));
        if (engine && decoded % measureEvery === 0) {
          measured += 1;
          const result = await measurePhoto(engine, photo);
          failures.push(...resultFaults(result).map((fault) => `${name} ${seed + k}: ${fault}`));
        }
      }
    } catch (error) {
      failures.push(`${name} ${seed + k}: threw ${error}`);
    }
    const { user, system } = process.cpuUsage(start);
    const took = (user + system) / 1000;
    if (took > LONGEST_MS) failures.push(`${name} ${seed + k}: took ${Math.round(took)} ms of processor time`);
    slowestMs = Math.max(slowestMs, took);
  }
  await rm(folder, { recursive: true });
  const peakMb = mostHeldMb();
  if (peakMb > MOST_MB && peakMb > heldBeforeMb) failures.push(`held ${Math.round(peakMb)} MB`);
  return { files, decoded, refused: files - decoded, measured, slowestMs, peakMb, failures };
}

const mostHeldMb = () => process.resourceUsage().maxRSS / 1024;

function photoFaults({ widthPx, heightPx, rgba, lens }: Photo): string[] {
  const faults: string[] = [];
  if (!(widthPx >= 1 && heightPx >= 1)) faults.push(`size ${widthPx} × ${heightPx}`);
  if (rgba.length !== 4 * widthPx * heightPx) faults.push(`${rgba.length} bytes for ${widthPx} × ${heightPx}`);
  if (lens.focal35Mm !== null && !(lens.focal35Mm > 0 && Number.isFinite(lens.focal35Mm))) {
    faults.push(`focal length ${lens.focal35Mm}`);
  }
  return faults;
}

/** Every number in a result is finite, and a refusal says why. */
export function resultFaults(result: MeasureResult): string[] {
  const faults: string[] = [];
  const visit = (value: unknown, at: string) => {
    if (typeof value === 'number' && !Number.isFinite(value)) faults.push(`${at} is ${value}`);
    else if (value && typeof value === 'object')
      for (const [key, inner] of Object.entries(value)) visit(inner, `${at}.${key}`);
  };
  visit(result, 'result');
  if (result.outcome === 'refused' && result.reason.message === '') faults.push('refused without a word');
  return faults;
}
