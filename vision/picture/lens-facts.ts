import ExifReader from 'exifreader';
import { isPlausibleFocal35 } from '../geometry/focal-prior.ts';
import type { LensFacts } from './photo.ts';

/** Diagonal of the 36 × 24 mm frame that "35 mm-equivalent" refers to. */
const FULL_FRAME_DIAGONAL_MM = Math.hypot(36, 24);
/** Aspect ratios that phones and cameras produce themselves. */
const CAMERA_ASPECTS = [4 / 3, 3 / 2, 16 / 9, 1];
/** TIFF resolution unit -> mm (Exif 2.32, FocalPlaneResolutionUnit: 2 inch, 3 cm). */
const RESOLUTION_UNIT_MM: Readonly<Record<number, number>> = { 2: 25.4, 3: 10 };

/** What a photo file says about itself, read once. */
export interface PhotoMetadata {
  /** Width times height as its header states them; 0 when it does not say. */
  readonly statedPixels: number;
  /** @param upright  pixel size after rotation, as decoded */
  lens(upright: { readonly widthPx: number; readonly heightPx: number }): LensFacts;
}

/**
 * A photo file's metadata. Missing, absurd or broken metadata gives nulls, never an error.
 * Source of the tags: Exif 2.32 (CIPA DC-008).
 */
export function readMetadata(file: ArrayBuffer): PhotoMetadata {
  const tag = readTags(file);
  return {
    statedPixels: (tag('Image Width') ?? 0) * (tag('Image Height') ?? 0),
    lens: (upright) => lensFacts(tag, upright),
  };
}

/**
 * What a photo file's metadata says about the lens.
 * @param file     the whole photo file
 * @param upright  pixel size after rotation, as decoded
 */
export function lensFactsFromFile(
  file: ArrayBuffer,
  upright: { readonly widthPx: number; readonly heightPx: number },
): LensFacts {
  return readMetadata(file).lens(upright);
}

function lensFacts(tag: ReadTag, upright: { readonly widthPx: number; readonly heightPx: number }): LensFacts {
  const storedWidthPx = tag('PixelXDimension');
  const storedHeightPx = tag('PixelYDimension');
  const aspect = aspectOf(upright.widthPx, upright.heightPx);
  const statedAspect =
    storedWidthPx && storedHeightPx
      ? Math.max(storedWidthPx, storedHeightPx) / Math.min(storedWidthPx, storedHeightPx)
      : aspect;
  return {
    focal35Mm:
      plausible(tag('FocalLengthIn35mmFilm')) ?? plausible(focal35FromSensor(tag, { storedWidthPx, storedHeightPx })),
    looksCropped: !isCameraAspect(upright.widthPx, upright.heightPx) || Math.abs(aspect / statedAspect - 1) > 0.01,
  };
}

/** Whether a camera makes pictures of these proportions itself. */
export function isCameraAspect(widthPx: number, heightPx: number): boolean {
  return CAMERA_ASPECTS.some((known) => Math.abs(aspectOf(widthPx, heightPx) / known - 1) < 0.01);
}

function aspectOf(widthPx: number, heightPx: number): number {
  return Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
}

type ReadTag = (name: string) => number | null;

function readTags(file: ArrayBuffer): ReadTag {
  let tags: Record<string, { value?: unknown } | undefined> = {};
  try {
    tags = ExifReader.load(file) as unknown as typeof tags;
  } catch {
    // A file without readable metadata is an ordinary photo.
  }
  return (name) => {
    const value = tags[name]?.value;
    const number = Array.isArray(value) && value.length === 2 ? value[0] / value[1] : value;
    return typeof number === 'number' && Number.isFinite(number) && number > 0 ? number : null;
  };
}

/** Focal length over the sensor's diagonal, from the focal-plane resolution tags, digital zoom included. */
function focal35FromSensor(
  tag: ReadTag,
  stored: { readonly storedWidthPx: number | null; readonly storedHeightPx: number | null },
): number | null {
  const focalMm = tag('FocalLength');
  const pixelsPerUnit = tag('FocalPlaneXResolution');
  const unitMm = RESOLUTION_UNIT_MM[tag('FocalPlaneResolutionUnit') ?? 2];
  if (!focalMm || !pixelsPerUnit || !unitMm || !stored.storedWidthPx || !stored.storedHeightPx) return null;
  const diagonalMm = (Math.hypot(stored.storedWidthPx, stored.storedHeightPx) / pixelsPerUnit) * unitMm;
  return (focalMm / diagonalMm) * FULL_FRAME_DIAGONAL_MM * (tag('DigitalZoomRatio') ?? 1);
}

function plausible(focal35Mm: number | null): number | null {
  return focal35Mm !== null && isPlausibleFocal35(focal35Mm) ? focal35Mm : null;
}
