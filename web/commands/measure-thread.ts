import { parentPort } from 'node:worker_threads';
import { measureFile } from './measure-file.ts';
import type { MeasureJob } from './measure-files.ts';

parentPort?.on('message', async (job: MeasureJob) => {
  parentPort?.postMessage(await measureFile(job));
});
