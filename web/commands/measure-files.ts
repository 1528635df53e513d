import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import { measureFile } from './measure-file.ts';
import type { MeasureLine } from './measure-line.ts';

/** One photo file and what is already known about it. */
export interface MeasureJob {
  readonly path: string;
  readonly options: MeasureOptions;
}

/** Below this many photos starting threads costs more than it gains. */
const FEWEST_FOR_THREADS = 3;

/**
 * Measures photo files on all cores. One bad file never stops the rest.
 * @param onLine  called as soon as a photo is done, in whatever order they finish
 * @returns the lines in the order of the jobs
 */
export async function measureFiles(
  jobs: readonly MeasureJob[],
  onLine: (index: number, line: MeasureLine) => void,
): Promise<MeasureLine[]> {
  const lines: MeasureLine[] = [];
  const done = (index: number, line: MeasureLine) => {
    lines[index] = line;
    onLine(index, line);
  };
  let next = 0;
  if (jobs.length < FEWEST_FOR_THREADS) {
    for (; next < jobs.length; next += 1) done(next, await measureFile(jobs[next]));
    return lines;
  }
  const threads = Math.min(availableParallelism(), jobs.length);
  await Promise.all(
    Array.from({ length: threads }, async () => {
      const thread = startThread();
      while (next < jobs.length) {
        const index = next;
        next += 1;
        done(index, await askThread(thread, jobs[index]));
      }
      await thread.terminate();
    }),
  );
  return lines;
}

/** A thread does not inherit the TypeScript loader of the command, so it registers its own first. */
function startThread(): Worker {
  const entry = new URL('./measure-thread.ts', import.meta.url).href;
  const script = `import('tsx/esm/api').then(({ register }) => { register(); return import('${entry}'); })`;
  return new Worker(script, { eval: true });
}

function askThread(thread: Worker, job: MeasureJob): Promise<MeasureLine> {
  return new Promise((resolve, reject) => {
    const settle = () => {
      thread.off('message', onMessage);
      thread.off('error', onError);
    };
    const onMessage = (line: MeasureLine) => {
      settle();
      resolve(line);
    };
    const onError = (error: unknown) => {
      settle();
      reject(error);
    };
    thread.on('message', onMessage);
    thread.on('error', onError);
    thread.postMessage(job);
  });
}
