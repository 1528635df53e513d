import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { measureFile } from '../../web/commands/measure-file.ts';
import { type MeasureJob, measureFiles } from '../../web/commands/measure-files.ts';
import { type Timing, timingOf } from './timing.ts';
import { BENCH_SAMPLES, twelveMegapixelFile } from './twelve-megapixels.ts';

const COPIES = 6;

/** The command line's way from file to sizes: one photo after the other, and a batch on all cores, threads' start included. */
export async function benchBatch(): Promise<Timing[]> {
  const folder = await mkdtemp(join(tmpdir(), 'roundwise-bench-'));
  try {
    const jobs: MeasureJob[] = [];
    for (const name of BENCH_SAMPLES) {
      const path = join(folder, `${name}.jpg`);
      await writeFile(path, await twelveMegapixelFile(name));
      jobs.push({ path, options: {} });
    }
    await measureFile(jobs[0]);
    const oneByOneMs: number[] = [];
    for (const job of [...jobs, ...jobs]) {
      const start = performance.now();
      await measureFile(job);
      oneByOneMs.push(performance.now() - start);
    }
    const batch = Array.from({ length: COPIES }, () => jobs).flat();
    const start = performance.now();
    await measureFiles(batch, () => {});
    const perPhotoMs = (performance.now() - start) / batch.length;
    return [
      timingOf('photo file to sizes, 12 megapixels, one by one', oneByOneMs, 1500),
      timingOf(`the same, ${batch.length} photos on ${availableParallelism()} cores, per photo`, [perPhotoMs], null),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
