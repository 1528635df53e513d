/**
 * Makes the clips that the viewfinder is proved by, each a hand-held camera before a sample photo: `npm run clips --
 * [--out FOLDER] [--only NAME] [--rate FRAMES_PER_SECOND] [--seconds N]`. Twenty, ten of which begin wrongly; MJPEG (JPEG frames one after the other), with the truth beside each.
 * Some 30 MB, so that only three of them are kept in tests/browser/files/clips.
 * Those three are shown over and over at 30 frames a second, so they are made at that rate: one of a second, two of half a
 * second that are wrong from end to end.
 */
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { EXIT, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { readTruth } from '../../web/commands/truth.ts';
import { type ClipChoice, handHeldFrames, type StillScene } from '../support/hand-held.ts';

const SAMPLES = 'sample-images';
const STANDING = [
  'jar-standing-on-linen',
  'steel-flask-standing-on-white-desk',
  'jam-jar-standing-on-dark-desk',
  'tumbler-standing-on-dark-desk',
];
const OTHERS = [
  'tumbler-lying-on-planks',
  'jam-jar-lying-on-linen',
  'flask-card-held-in-front',
  'can-card-leaning-on-it',
];
const FRAME_LONG_SIDE_PX = 1280;
const QUALITY = 60;
const USUALLY = { framesPerSecond: 6, seconds: 5 };

interface Clip {
  readonly name: string;
  readonly sample: string;
  readonly begins: ClipChoice['begins'];
  readonly seed: number;
}

const clipsOf = (samples: readonly string[], begins: ClipChoice['begins'], firstSeed: number): Clip[] =>
  samples.map((sample, k) => ({ name: `${sample}-${begins}`, sample, begins, seed: firstSeed + k }));

export const CLIPS: readonly Clip[] = [
  ...clipsOf([...STANDING, ...OTHERS], 'right', 100),
  ...clipsOf(STANDING.slice(0, 2), 'right', 200).map((clip) => ({ ...clip, name: `${clip.name}-again` })),
  ...clipsOf([...STANDING, ...OTHERS.slice(0, 2)], 'tilted', 300),
  ...clipsOf(STANDING, 'dark', 400),
];

runCommand('make-clips', async () => {
  const { values } = readArguments({
    out: { type: 'string' },
    only: { type: 'string' },
    rate: { type: 'string' },
    seconds: { type: 'string' },
  });
  const timing = {
    framesPerSecond: Number(values.rate ?? USUALLY.framesPerSecond),
    seconds: Number(values.seconds ?? USUALLY.seconds),
  };
  const folder = values.out ?? 'node_modules/.tmp/clips';
  await mkdir(folder, { recursive: true });
  for (const clip of CLIPS) {
    if (values.only && values.only !== clip.name) continue;
    await writeClip(folder, clip, timing);
    process.stderr.write(`${clip.name}\n`);
  }
  return EXIT.done;
});

async function writeClip(folder: string, { name, sample, begins, seed }: Clip, timing: typeof USUALLY): Promise<void> {
  const path = join(SAMPLES, `${sample}.jpg`);
  const truth = await readTruth(path);
  if (!truth) throw new Error(`no truth beside ${path}`);
  const camera = JSON.parse(await readFile(join(SAMPLES, `${sample}.json`), 'utf8')).camera;
  const { data, info } = await sharp(path).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const scene: StillScene = { widthPx: info.width, heightPx: info.height, rgb: data, focalPx: camera.fx };
  const scale = FRAME_LONG_SIDE_PX / Math.max(info.width, info.height);
  const size = { widthPx: Math.round(info.width * scale), heightPx: Math.round(info.height * scale) };
  const frames = handHeldFrames(scene, { ...timing, ...size, begins, seed });
  const jpegs: Buffer[] = [];
  for (const frame of frames) {
    const raw = { width: size.widthPx, height: size.heightPx, channels: 3 } as const;
    // Chromium's player of such files knows 4:2:0 only
    jpegs.push(await sharp(frame, { raw }).jpeg({ quality: QUALITY, chromaSubsampling: '4:2:0' }).toBuffer());
  }
  await writeFile(join(folder, `${name}.mjpeg`), Buffer.concat(jpegs));
  const { maxDiameterMm, heightMm, arrangement } = truth;
  const about = { sample, begins, seed, framesPerSecond: timing.framesPerSecond, arrangement, maxDiameterMm, heightMm };
  await writeFile(join(folder, `${name}.json`), `${JSON.stringify(about, null, 2)}\n`);
}
