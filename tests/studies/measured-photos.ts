/**
 * Real photos that show a reference and other rectangles of known size in its plane: the rectangles measured by the
 * reference against what they are, as a Markdown table.
 * npx tsx tests/studies/measured-photos.ts FOLDER   (pairs of *.json and the photo they name)
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { measureWork } from '../../vision/flat-piece/measure-work.ts';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';

interface Known {
  readonly name?: string;
  readonly kind?: string;
  readonly corners_px?: CornersPx;
  readonly edge_mm?: readonly [number, number];
}

/** Corners of the known rectangles were read by eye to 1–2 px (README of the photos). */
const READ_SD_PX = 1.5;
/** Printed on the table itself. */
const FLAT_MM = 0.01;

const [folder] = process.argv.slice(2);
if (!folder) {
  process.stderr.write('measured-photos: give the folder with the photos and their sizes\n');
  process.exit(2);
}
process.stdout.write(
  '| photo | by | side | true mm | measured mm (95 %) | inside |\n| --- | --- | --- | --- | --- | --- |\n',
);
for (const name of readdirSync(folder).filter((file) => file.endsWith('.json'))) {
  const { file, objects, reference } = JSON.parse(readFileSync(join(folder, name), 'utf8'));
  for (const [k, card] of [reference.real].flat().entries()) {
    for (const known of objects as Known[]) {
      if (known.corners_px && known.edge_mm && /ID-1/.test(card.kind))
        await rows(file, `${card.kind} ${k + 1}`, card, known);
    }
  }
}

async function rows(
  file: string,
  by: string,
  card: Known,
  { name, corners_px, edge_mm = [0, 0] }: Known,
): Promise<void> {
  const { cv } = await loadOpenCv();
  const photo = await decodePhotoFile(join(folder, file));
  if (!photo) throw new Error(`${file} is no photo`);
  const result = measureWork({ cv, outlineModel: null }, photo, 'swatch', {
    cornersHintPx: card.corners_px,
    edgePx: corners_px,
    placementSdPx: READ_SD_PX,
    thicknessMm: FLAT_MM,
    rowsRun: 'across',
  });
  const sizes =
    result.outcome === 'measured' && result.piece === 'swatch' ? [result.swatch.widthMm, result.swatch.heightMm] : [];
  edge_mm.forEach((trueMm, side) => {
    const size = sizes[side];
    const inside = size && size.low95 <= trueMm && trueMm <= size.high95 ? 'yes' : 'no';
    const measured = size ? `${size.value.toFixed(1)} ± ${(size.high95 - size.value).toFixed(1)}` : 'refused';
    const cells = [file.replace(/.*\//, ''), by, `${name}, ${side === 0 ? 'across' : 'up'}`, trueMm, measured, inside];
    process.stdout.write(`| ${cells.join(' | ')} |\n`);
  });
}
