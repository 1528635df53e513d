import type { FocalPrior, LensFacts } from '../picture/photo.ts';

/** Diagonal of the 36 mm × 24 mm frame to which 35 mm-equivalent focal lengths refer. */
const FULL_FRAME_DIAGONAL_MM = 43.2666;

/** Files give whole millimetres, rounded by the maker: ±0.5 mm rectangular, plus about 1.5 % between nominal and real. */
const ROUNDING_SD_MM = 0.29;
const NOMINAL_RELATIVE_SD = 0.015;

/**
 * Without metadata: main lenses of phones are 23–28 mm, doubled modules 48–77 mm. One wide bell over both; the card and
 * the perspective of the scene do the rest.
 */
const TYPICAL_PHONE_MM = 30;
const TYPICAL_PHONE_RELATIVE_SD = 0.33;

/** A crop makes the frame smaller than the one the 35 mm-equivalent refers to: focal length in px is then too small. */
const CROPPED_RELATIVE_SD = 0.25;

/** What can be said about the focal length before looking at the picture. */
export function focalPriorFromLens(lens: LensFacts, imageWidthPx: number, imageHeightPx: number): FocalPrior {
  const pxPerMm = (lens.frameDiagonalPx ?? Math.hypot(imageWidthPx, imageHeightPx)) / FULL_FRAME_DIAGONAL_MM;
  const focal35 = lens.focal35Mm;
  if (focal35 === null || !isPlausibleFocal35(focal35)) {
    return { focalPx: TYPICAL_PHONE_MM * pxPerMm, relativeSd: TYPICAL_PHONE_RELATIVE_SD, source: 'typical-phone' };
  }
  const relativeSd = Math.hypot(NOMINAL_RELATIVE_SD, ROUNDING_SD_MM / focal35);
  return {
    focalPx: focal35 * pxPerMm,
    relativeSd: lens.looksCropped ? CROPPED_RELATIVE_SD : relativeSd,
    source: 'exif',
  };
}

/** Below and above this no phone or camera lens lies; such numbers in a file are wrong. */
export function isPlausibleFocal35(focal35Mm: number): boolean {
  return focal35Mm >= 8 && focal35Mm <= 1000;
}

/** Prior standard uncertainty of each coordinate of the principal point, px. */
export function principalPointSdPx(imageWidthPx: number, imageHeightPx: number, looksCropped: boolean): number {
  return (looksCropped ? 0.08 : 0.004) * Math.max(imageWidthPx, imageHeightPx);
}
