/**
 * How well the network alone sees photos with known truth:
 * npx tsx tests/vision/network/score-photos.ts FOLDER [weights.onnx] [sheet.jpg] [--tap]
 * With --tap a finger points at the middle of each container's axis.
 */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { type CoarseSighting, coarseSighting } from '../../../vision/network/coarse-sighting.ts';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { readTruth } from '../../../web/commands/truth.ts';
import { maskOverlap, worstCornerErrorPx } from './overlap.ts';

const AXIS_CONFIDENCE = 0.5;

const withTap = process.argv.includes('--tap');
const [folder = 'sample-images', weights = 'vision/network/outline-model.onnx', sheet] = process.argv
  .slice(2)
  .filter((word) => word !== '--tap');
const { cv } = await loadOpenCv();
using model = loadOutlineModel(cv, await readFile(weights));
const overlaps: number[] = [];
const corners: number[] = [];
const tiles: Buffer[] = [];
for (const name of (await readdir(folder)).filter((n) => n.endsWith('.jpg') || n.endsWith('.png')).sort()) {
  const path = join(folder, name);
  const photo = await decodePhotoFile(path);
  if (!photo) continue;
  const truth = await readTruth(path);
  const start = performance.now();
  const seen = coarseSighting(model, photo, withTap ? (truth?.insidePx ?? undefined) : undefined);
  const ms = performance.now() - start;
  const overlap = truth?.outlinePx ? maskOverlap(seen.bodyMask, truth.outlinePx, photo) : Number.NaN;
  const corner =
    truth?.cornersPx && seen.cardCornersPx ? worstCornerErrorPx(seen.cardCornersPx, truth.cornersPx) : Number.NaN;
  if (truth?.outlinePx) overlaps.push(overlap);
  if (truth?.cornersPx) corners.push(corner / Math.max(photo.widthPx, photo.heightPx));
  const ends = await axisErrorsPx(path, seen);
  const longSide = Math.max(photo.widthPx, photo.heightPx);
  const [likely, share] = Object.entries(seen.arrangementScores).reduce((a, b) => (b[1] > a[1] ? b : a));
  const scores = [seen.containerPresent, seen.round, seen.cutByFrame, seen.cardPresent]
    .map((p) => p.toFixed(2))
    .join(' ');
  const verdict = truth && truth.arrangement !== likely ? 'WRONG' : '';
  console.log(
    `${name.padEnd(40)} IoU ${overlap.toFixed(3)}  corner ${((100 * corner) / longSide).toFixed(1)} %  axis ${ends.map((px) => ((100 * px) / longSide).toFixed(1)).join(' ')} %  ${likely} ${share.toFixed(2)} ${verdict}  present/round/cut/card ${scores}  ${ms.toFixed(0)} ms`,
  );
  if (sheet) tiles.push(await drawTile(photo, seen));
}
overlaps.sort((a, b) => a - b);
console.log(
  `IoU median ${overlaps[Math.floor(overlaps.length / 2)]?.toFixed(3)}, above 0.85: ${overlaps.filter((x) => x > 0.85).length} of ${overlaps.length}`,
);
console.log(
  `all four corners within 2 % of the long side: ${corners.filter((x) => x < 0.02).length} of ${corners.length}`,
);
if (sheet) await saveSheet(tiles, sheet);

/** Distances of base and top from the true ones; NaN where the network does not commit itself. */
async function axisErrorsPx(path: string, seen: CoarseSighting): Promise<number[]> {
  const text = await readFile(path.replace(/\.[a-z]+$/, '.json'), 'utf8').catch(() => '{}');
  const ends: readonly ImagePoint[] = JSON.parse(text).container?.axis_px ?? [];
  const guesses = [seen.axisPx.base, seen.axisPx.top];
  return ends.map(([x, y], i) => {
    const guess = guesses[i];
    if (!guess || guess.confidence < AXIS_CONFIDENCE) return Number.NaN;
    return Math.hypot(guess.atPx[0] - x, guess.atPx[1] - y);
  });
}

async function drawTile(photo: Photo, seen: CoarseSighting): Promise<Buffer> {
  const size = 320;
  const base = await sharp(photo.rgba, { raw: { width: photo.widthPx, height: photo.heightPx, channels: 4 } })
    .removeAlpha()
    .resize(size, size, { fit: 'inside' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const { width, height } = base.info;
  const scale = width / photo.widthPx;
  const pixels = Buffer.from(base.data);
  const { bodyMask, cardMask } = seen;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const column = Math.min(bodyMask.widthCells - 1, Math.floor((x / width) * bodyMask.widthCells));
      const row = Math.min(bodyMask.heightCells - 1, Math.floor((y / height) * bodyMask.heightCells));
      const at = row * bodyMask.widthCells + column;
      const i = 3 * (y * width + x);
      pixels[i + 1] = Math.min(255, (pixels[i + 1] ?? 0) * 0.7 + 90 * (bodyMask.probability[at] ?? 0));
      pixels[i] = Math.min(255, (pixels[i] ?? 0) * 0.7 + 90 * (cardMask.probability[at] ?? 0));
    }
  }
  const dot = ([x, y]: ImagePoint, color: string) =>
    `<circle cx="${x * scale}" cy="${y * scale}" r="3" fill="${color}"/>`;
  const marks = [
    ...(seen.cardCornersPx ?? []).map((c) => dot(c.atPx, 'yellow')),
    dot(seen.axisPx.base.atPx, 'magenta'),
    dot(seen.axisPx.top.atPx, 'cyan'),
  ];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${marks.join('')}</svg>`;
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .composite([{ input: Buffer.from(svg) }])
    .png()
    .toBuffer();
}

async function saveSheet(images: readonly Buffer[], path: string): Promise<void> {
  const composite = images.map((input, i) => ({ input, left: (i % 6) * 320, top: Math.floor(i / 6) * 320 }));
  await sharp({ create: { width: 1920, height: Math.ceil(images.length / 6) * 320, channels: 3, background: '#000' } })
    .composite(composite)
    .jpeg({ quality: 88 })
    .toFile(path);
}
