/**
 * Makes photos of containers beside a coin, with their truth:
 * `npx tsx tests/studies/make-coin-samples.ts FOLDER FIRST_SEED COUNT [LONG_SIDE] [SAMPLES]`, for studies, or without
 * arguments the sample photos again. Needs g++. What a seed draws changes with the network's scene.h: the samples are
 * of the one of commit 17a7b21.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';

const SAMPLES = fileURLToPath(new URL('../../sample-images/coin/', import.meta.url));
/** The names say what the scenes of these seeds show. */
const SAMPLE_SEEDS: Readonly<Record<string, number>> = {
  'tin-standing-beside-a-coin': 3085,
  'small-bottle-lying-beside-a-coin': 7070,
};

const work = await mkdtemp(join(tmpdir(), 'coin-photos-'));
const program = join(work, 'coin-photos');
const source = fileURLToPath(new URL('coin-photos.cpp', import.meta.url));
execFileSync('g++', ['-O3', '-march=native', '-fopenmp', source, '-o', program]);

const [folder, seed, count, longSide = '1280', samples = '24'] = process.argv.slice(2);
if (folder) {
  await develop(render(seed, count, longSide, samples), folder, null);
} else {
  for (const [name, sampleSeed] of Object.entries(SAMPLE_SEEDS)) {
    await develop(render(`${sampleSeed}`, '1', '1600', '48'), SAMPLES, name);
  }
}

/** @returns the folder the raw pictures are in */
function render(...options: readonly [seed: string, count: string, longSide: string, samples: string]): string {
  const raw = mkdtempSync(join(work, 'raw-'));
  execFileSync(program, [raw, ...options]);
  return raw;
}

/** Raw pictures to JPEG files that say which lens took them. */
async function develop(from: string, to: string, only: string | null): Promise<void> {
  await mkdir(to, { recursive: true });
  for (const file of (await readdir(from)).filter((name) => name.endsWith('.ppm'))) {
    const truth = JSON.parse(await readFile(join(from, file.replace('.ppm', '.json')), 'utf8'));
    const { width, height } = truth.image;
    const raw = await readFile(join(from, file));
    const id = only ?? file.slice(0, -'.ppm'.length);
    await sharp(raw.subarray(raw.length - 3 * width * height), { raw: { width, height, channels: 3 } })
      .withExif({ IFD2: { FocalLengthIn35mmFilm: `${truth.exif.focal_35mm}` } })
      .jpeg({ quality: 82, mozjpeg: true })
      .toFile(join(to, `${id}.jpg`));
    await writeFile(join(to, `${id}.json`), `${JSON.stringify({ id, ...truth })}\n`);
  }
}
