import { readFile } from 'node:fs/promises';
import * as v from 'valibot';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Arrangement } from '../../vision/measurement.ts';

/** What is known about a photo from how it was made; the format is described in sample-images/README.md. */
export interface Truth {
  readonly arrangement: Arrangement;
  readonly baseDiameterMm: number;
  readonly maxDiameterMm: number;
  readonly heightMm: number;
  /** True when the program ought to refuse: no card, not round, cut by the frame. */
  readonly shouldRefuse: boolean;
  readonly cornersPx: CornersPx | null;
  /** 0 when side 0 (and 2) of the corners are the card's long sides, 1 when side 1 (and 3) are. */
  readonly longSide: 0 | 1;
  /** Outer contour of the silhouette, parts hidden by the card included. */
  readonly outlinePx: readonly ImagePoint[] | null;
  /** What the photo's metadata say about the lens. */
  readonly focal35Mm: number | null;
  readonly imageWidthPx: number;
  readonly imageHeightPx: number;
  /** Middle of the axis: a point inside the container. */
  readonly insidePx: ImagePoint | null;
}

const ARRANGEMENT_OF = {
  STAND: 'standing',
  LAY: 'lying',
  FRONT: 'card-on-front',
  LEAN: 'card-leaning',
} as const satisfies Readonly<Record<string, Arrangement>>;

const point = v.tuple([v.number(), v.number()]);
const sizeMm = v.pipe(v.number(), v.finite(), v.gtValue(0));

/** As much of a truth file as is read here. */
const TRUTH_FILE = v.object({
  arrangement: v.picklist(['STAND', 'LAY', 'FRONT', 'LEAN']),
  negative: v.nullish(v.string()),
  image: v.optional(v.object({ width: v.number(), height: v.number() })),
  exif: v.nullish(v.object({ focal_35mm: v.nullish(v.number()) })),
  container: v.object({
    base_diameter_mm: sizeMm,
    max_diameter_mm: sizeMm,
    height_mm: sizeMm,
    outline_px: v.optional(v.array(v.array(point))),
    axis_px: v.optional(v.tuple([point, point])),
  }),
  card: v.nullish(v.object({ corners_px: v.optional(v.array(point)) })),
});

export function truthPath(photoPath: string): string {
  return photoPath.replace(/\.[a-z]+$/i, '.json');
}

/** Reads the truth file beside a photo (`x.jpg` -> `x.json`). @returns null when there is none or it is not one */
export async function readTruth(photoPath: string): Promise<Truth | null> {
  let content: unknown;
  try {
    content = JSON.parse(await readFile(truthPath(photoPath), 'utf8'));
  } catch {
    return null;
  }
  const { success, output: file } = v.safeParse(TRUTH_FILE, content);
  if (!success) return null;
  const arrangement = ARRANGEMENT_OF[file.arrangement];
  const axis = file.container.axis_px;
  const cornersPx = file.card?.corners_px ? clockwiseFromTopLeft(file.card.corners_px) : null;
  return {
    arrangement,
    baseDiameterMm: file.container.base_diameter_mm,
    maxDiameterMm: file.container.max_diameter_mm,
    heightMm: file.container.height_mm,
    shouldRefuse: Boolean(file.negative),
    cornersPx,
    longSide: cornersPx && isLongFirst(file.card?.corners_px ?? [], cornersPx) ? 0 : 1,
    focal35Mm: file.exif?.focal_35mm ?? null,
    imageWidthPx: file.image?.width ?? 0,
    imageHeightPx: file.image?.height ?? 0,
    outlinePx: file.container.outline_px?.[0] ?? null,
    insidePx: axis ? [(axis[0][0] + axis[1][0]) / 2, (axis[0][1] + axis[1][1]) / 2] : null,
  };
}

/** Turns four corners in any order round the card into clockwise order as seen, starting at the top-left one. */
export function clockwiseFromTopLeft(corners: readonly ImagePoint[]): CornersPx {
  const centerX = corners.reduce((sum, [x]) => sum + x, 0) / corners.length;
  const centerY = corners.reduce((sum, [, y]) => sum + y, 0) / corners.length;
  const clockwise = [...corners].sort(
    (a, b) => Math.atan2(a[1] - centerY, a[0] - centerX) - Math.atan2(b[1] - centerY, b[0] - centerX),
  );
  const topLeft = clockwise.reduce(
    (best, [x, y], k) => (x + y < clockwise[best][0] + clockwise[best][1] ? k : best),
    0,
  );
  const [a, b, c, d] = [0, 1, 2, 3].map((k) => clockwise[(topLeft + k) % 4]);
  return [a, b, c, d];
}

/** In the file a long side runs from the first corner to the second, another from the third to the fourth. */
function isLongFirst(inFile: readonly ImagePoint[], [a, b]: CornersPx): boolean {
  return inFile.indexOf(a) >> 1 === inFile.indexOf(b) >> 1;
}
