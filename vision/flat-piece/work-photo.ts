import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { Problem } from '../measurement.ts';
import type { Photo } from '../picture/photo.ts';
import type { SeenReference } from './seen-reference.ts';

/** A photo of flat work with its reference already found or placed, and what the maker says about the work. */
export interface WorkPhoto {
  readonly photo: Photo;
  readonly reference: SeenReference;
  /** A point inside the work, when the maker tapped it. */
  readonly insidePx?: ImagePoint;
  /** The work's edge as a closed polygon, placed by hand; no pixel is then looked at. */
  readonly edgePx?: readonly ImagePoint[];
  /** Standard uncertainty of hand-placed points, px. */
  readonly placementSdPx?: number;
  /** Thickness of the fabric, when measured. */
  readonly thicknessMm?: number;
}

/** How the rows (or rounds) of a piece run: in the photo, or along which of its sides. */
export const ROW_DIRECTIONS = ['across', 'up', 'longer', 'shorter'] as const;
export type RowDirection = (typeof ROW_DIRECTIONS)[number];

/** A photo of a piece worked in rows or rounds that lies as a rectangle. */
export interface RowedWorkPhoto extends WorkPhoto {
  /** Across unless said otherwise. */
  readonly rowsRun?: RowDirection;
  /** Stitches in a row, of a tube all the way round; they tell the thickness of the fabric when it is not typed. */
  readonly stitches?: number;
}

/** What a thumb on a zoomed photo does. */
export const PLACEMENT_SD_PX = 3;

/** What was found before a measurement stopped. */
export interface WorkFindings {
  readonly cornersPx: CornersPx | null;
  readonly edgePx: readonly ImagePoint[] | null;
}

/** Why a piece was not measured. */
export interface WorkRefusal {
  readonly outcome: 'refused';
  readonly reason: Problem;
  readonly found: WorkFindings;
}

/**
 * Crochet is about 0.6 stitch widths thick: two strands of a yarn about 0.3 stitch widths through (12 WPI and 6.3 mm
 * stitches give 0.34). Common practice, no source; hence the wide spread.
 */
const THICKNESS_OVER_STITCH = 0.6;
const GUESSED_RELATIVE_SD = 0.3;
/** With nothing known about the stitch: yarns of categories 2 to 5. */
const UNKNOWN_THICKNESS_MM = 4;
const UNKNOWN_RELATIVE_SD = 0.4;
/** A ruler's reading of soft fabric. */
const TYPED_SD_MM = 0.5;

export interface Thickness {
  readonly valueMm: number;
  readonly sdMm: number;
}

/** Thickness of one layer: typed, or guessed from the stitch width, or a wide guess. */
export function fabricThickness(typedMm: number | undefined, stitchWidthMm: number | null): Thickness {
  if (typedMm !== undefined) return { valueMm: typedMm, sdMm: Math.min(TYPED_SD_MM, typedMm / 2) };
  if (stitchWidthMm !== null) {
    const valueMm = THICKNESS_OVER_STITCH * stitchWidthMm;
    return { valueMm, sdMm: GUESSED_RELATIVE_SD * valueMm };
  }
  return { valueMm: UNKNOWN_THICKNESS_MM, sdMm: UNKNOWN_RELATIVE_SD * UNKNOWN_THICKNESS_MM };
}
