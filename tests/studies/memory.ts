/** What measuring photo after photo does to memory: `npm run study:memory`. */
import { readFile } from 'node:fs/promises';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { EXIT, numberOption, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { type MemoryUse, memoryOverPhotos } from '../support/memory-over-photos.ts';

const HELP = `Memory while photo after photo of ever changing size is measured: live OpenCV objects and heaps.

npm run --silent study:memory -- [--photos 500] [--seed N] [--json]
`;
const LONG_SIDE_PX = 2016;

runCommand('study:memory', async () => {
  const { values } = readArguments({
    photos: { type: 'string' },
    seed: { type: 'string' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const photos = numberOption('photos', values.photos, 10, 1e5) ?? 500;
  const seed = numberOption('seed', values.seed, 0, 1e6) ?? 1;
  const { cv } = await loadOpenCv();
  const engine = { cv, outlineModel: loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx')) };
  const uses: MemoryUse[] = [];
  if (!values.json) process.stdout.write('photos  OpenCV objects  OpenCV in use MB  JS heap MB  resident MB\n');
  const every = Math.ceil(photos / 10);
  for await (const use of memoryOverPhotos(engine, { photos, every, longSidePx: LONG_SIDE_PX, seed })) {
    uses.push(use);
    if (!values.json) process.stdout.write(row(use));
  }
  if (values.json) process.stdout.write(`${JSON.stringify({ photos, seed, uses })}\n`);
  return EXIT.done;
});

function row({ photos, liveOpenCvObjects, openCvInUseMb, jsHeapMb, residentMb }: MemoryUse): string {
  const mb = (value: number, width: number) => value.toFixed(1).padStart(width);
  return `${String(photos).padStart(6)}${String(liveOpenCvObjects).padStart(16)}${mb(openCvInUseMb, 18)}${mb(jsHeapMb, 12)}${mb(residentMb, 13)}\n`;
}
