/**
 * Makes the sample photos of flat work again, with their truth: npx tsx tests/studies/make-work-samples.ts [NAME ...]
 * Scenario: a refill stall at a harbour market crochets carriers for what its customers bring along.
 */
import { mkdir, writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { RowDirection } from '../../vision/flat-piece/work-photo.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { parseRoundReference } from '../../vision/reference/round-reference.ts';
import { type FlatWorkPicture, randomScene, takePicture } from '../support/flat-work-pictures.ts';
import { rowsRun } from '../support/flat-work-scores.ts';
import { type DiscSpec, outOfRoundnessOf, type RectangleSpec } from '../support/flat-work-shapes.ts';

const FOLDER = new URL('../../sample-images/work/', import.meta.url);

interface Sample {
  readonly name: string;
  readonly seed: number;
  readonly work: DiscSpec | RectangleSpec;
  /** Said of work that lies diagonally. */
  readonly rowsRun?: RowDirection;
  /** Lies beside it in the card's place. */
  readonly coin?: string;
}

const SAMPLES: readonly Sample[] = [
  {
    name: 'jar-base-two-rounds',
    seed: 12,
    work: {
      kind: 'disc',
      meanDiameterMm: 41.6,
      thicknessMm: 3.9,
      rounds: 2,
      stitches: 20,
      scallopMm: 1.2,
      outOfRoundness: 0.02,
      hasHoles: true,
      seed: 12,
    },
  },
  {
    name: 'flask-base-finished',
    seed: 25,
    work: {
      kind: 'disc',
      meanDiameterMm: 77.4,
      thicknessMm: 3.4,
      rounds: 7,
      stitches: 44,
      scallopMm: 0.9,
      outOfRoundness: 0.035,
      hasHoles: false,
      seed: 25,
    },
  },
  {
    name: 'cotton-swatch',
    seed: 29,
    work: {
      kind: 'swatch',
      widthMm: 98.5,
      lengthMm: 84.2,
      thicknessMm: 3.6,
      rows: 15,
      stitches: 16,
      scallopMm: 1,
      hasHoles: false,
      seed: 29,
    },
  },
  {
    name: 'sleeve-in-progress',
    seed: 4,
    rowsRun: 'longer',
    work: {
      kind: 'tube',
      widthMm: 112,
      lengthMm: 88,
      thicknessMm: 7,
      rows: 15,
      stitches: 18,
      scallopMm: 1,
      hasHoles: false,
      seed: 4,
    },
  },
  {
    name: 'bowl-base-beside-a-coin',
    seed: 31,
    coin: '2 euro',
    work: {
      kind: 'disc',
      meanDiameterMm: 63.8,
      thicknessMm: 3.2,
      rounds: 6,
      stitches: 40,
      scallopMm: 0.9,
      outOfRoundness: 0.02,
      hasHoles: false,
      seed: 31,
    },
  },
];
const wanted = process.argv.slice(2);

await mkdir(FOLDER, { recursive: true });
for (const { name, seed, work, coin, rowsRun: said } of SAMPLES) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  const reference = (coin && parseRoundReference(coin)) || ID1_CARD;
  // A card of exactly its nominal size that lies flat.
  const picture = takePicture({
    ...randomScene(seed, work, reference, [1600, 1200]),
    reference,
    referenceSlope: [0, 0],
  });
  const { photo, scene } = picture;
  const exif = scene.focal35Mm === null ? {} : { IFD2: { FocalLengthIn35mmFilm: String(scene.focal35Mm) } };
  const jpeg = await sharp(Buffer.from(photo.rgba), {
    raw: { width: photo.widthPx, height: photo.heightPx, channels: 4 },
  })
    .removeAlpha()
    .withExif(exif)
    .jpeg({ quality: 76, mozjpeg: true })
    .toBuffer();
  await writeFile(new URL(`${name}.jpg`, FOLDER), jpeg);
  await writeFile(
    new URL(`${name}.json`, FOLDER),
    `${JSON.stringify(truthOf(name, picture, said ?? rowsRun(picture)))}\n`,
  );
}

function truthOf(name: string, picture: FlatWorkPicture, said: RowDirection) {
  const { photo, scene, cornersPx, rimPx, outlinePx } = picture;
  const { reference } = scene;
  const { work, camera } = scene;
  const { kind, rounds, size } =
    work.kind === 'disc'
      ? {
          kind: work.kind,
          rounds: work.rounds,
          size: {
            mean_diameter_mm: work.meanDiameterMm,
            out_of_roundness: Math.round(1e4 * outOfRoundnessOf(work)) / 1e4,
          },
        }
      : {
          kind: work.kind,
          rounds: work.rows,
          size: { width_mm: work.widthMm, length_mm: work.lengthMm, rows_run: said },
        };
  return {
    id: name,
    piece: kind,
    work: { ...size, rounds, stitches: work.stitches, thickness_mm: work.thicknessMm, outline_px: rounded(outlinePx) },
    image: { width: photo.widthPx, height: photo.heightPx },
    ...('diameterMm' in reference
      ? {
          round: {
            name: reference.name,
            diameter_mm: reference.diameterMm,
            thickness_mm: reference.thicknessMm,
            rim_px: rounded(rimPx),
          },
        }
      : { card: { corners_px: rounded(cornersPx ?? []) } }),
    camera: { fx: camera.focalPx, cx: camera.centreXPx, cy: camera.centreYPx, k1: camera.k1 },
    exif: scene.focal35Mm === null ? null : { focal_35mm: scene.focal35Mm },
  };
}

function rounded(points: readonly (readonly [number, number])[]): number[][] {
  return points.map(([x, y]) => [Math.round(100 * x) / 100, Math.round(100 * y) / 100]);
}
