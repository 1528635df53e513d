import { readFile } from 'node:fs/promises';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { fuzzDecoders } from '../support/fuzz-decoders.ts';

/** `npm run fuzz [-- FILES SEED]`: damaged picture files against decoder, metadata and engine. */
if (process.argv.includes('--help')) {
  process.stdout.write('Damages picture files and feeds them to decoder and engine: npm run fuzz [-- FILES SEED]\n');
  process.exit(0);
}
const files = Number(process.argv[2] ?? 20_000);
const seed = Number(process.argv[3] ?? 1);
const { cv } = await loadOpenCv();
const outlineModel = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
const report = await fuzzDecoders(files, seed, { cv, outlineModel });
process.stdout.write(`${JSON.stringify({ ...report, failures: report.failures.slice(0, 20) }, null, 2)}\n`);
process.exitCode = report.failures.length === 0 ? 0 : 1;
