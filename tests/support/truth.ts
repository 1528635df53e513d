import { readFileSync } from 'node:fs';
import type { CornersPx, ImagePoint } from '../../vision/frames.ts';
import type { Arrangement } from '../../vision/measurement.ts';
import type { LensFacts } from '../../vision/photo.ts';

/** What is known exactly about a rendered photo. */
export interface Truth {
  readonly name: string;
  readonly arrangement: Arrangement;
  /** Why it should be refused, or null. */
  readonly negative: string | null;
  readonly imageWidthPx: number;
  readonly imageHeightPx: number;
  readonly lens: LensFacts;
  readonly baseDiameterMm: number;
  readonly maxDiameterMm: number;
  readonly heightMm: number;
  readonly isRound: boolean;
  readonly hasHandle: boolean;
  /** Outer profile [[z, r], …] from base to top, mm. */
  readonly profileMm: readonly (readonly [number, number])[];
  /** Closed silhouette; hidden parts included. */
  readonly outlinePx: readonly ImagePoint[];
  /** Holes of the silhouette (mug handle). */
  readonly holesPx: readonly (readonly ImagePoint[])[];
  /** Clockwise as seen, starting at the top-left corner; longSide as in CardSighting. */
  readonly cornersPx: CornersPx;
  readonly longSide: 0 | 1;
  readonly focalPx: number;
}

const ARRANGEMENT_OF: Readonly<Record<string, Arrangement>> = {
  STAND: 'standing',
  LAY: 'lying',
  FRONT: 'card-on-front',
  LEAN: 'card-leaning',
};

/** Reads a truth file; its format is described in sample-images/README.md. */
export function readTruth(path: string): Truth {
  const file = JSON.parse(readFileSync(path, 'utf8'));
  const { cornersPx, longSide } = clockwiseFromTopLeft(file.card.corners_px);
  const [outlinePx, ...holesPx] = file.container.outline_px;
  return {
    name: file.id,
    arrangement: ARRANGEMENT_OF[file.arrangement],
    negative: file.negative,
    imageWidthPx: file.image.width,
    imageHeightPx: file.image.height,
    lens: { focal35Mm: file.exif?.focal_35mm ?? null, looksCropped: false },
    baseDiameterMm: file.container.base_diameter_mm,
    maxDiameterMm: file.container.max_diameter_mm,
    heightMm: file.container.height_mm,
    isRound: file.container.round,
    hasHandle: file.container.handle !== null,
    profileMm: file.container.profile_mm,
    outlinePx,
    holesPx,
    cornersPx,
    longSide,
    focalPx: file.camera.fx,
  };
}

/** From the file's order (−x −y, +x −y, +x +y, −x +y of the card) to clockwise from the top-left as seen. */
function clockwiseFromTopLeft(file: readonly ImagePoint[]): { cornersPx: CornersPx; longSide: 0 | 1 } {
  const clockwise = [file[0], file[3], file[2], file[1]];
  const sums = clockwise.map(([x, y]) => x + y);
  const first = sums.indexOf(Math.min(...sums));
  const cornersPx = [0, 1, 2, 3].map((i) => clockwise[(first + i) % 4]) as unknown as CornersPx;
  // sides 1 and 3 of the unrotated list are the long ones
  return { cornersPx, longSide: first % 2 === 0 ? 1 : 0 };
}
