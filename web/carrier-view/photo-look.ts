import { unit, type Vector3 } from '../../vision/geometry/linear3.ts';
import { contains } from '../../vision/geometry/polygon.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { type Light, type Look, STAGE_LIGHT } from './carrier-scene.ts';
import type { Section } from './container-mesh.ts';
import { inContainer, type PictureView } from './projection.ts';
import { linearRgb } from './yarn-colours.ts';

/** A measured photo, its card covered, and what was measured in it. */
export interface CarrierPhoto {
  /** As `blankedPicture` gives it; any size. */
  readonly blanked: Blob;
  /** Size of the full photo, which the measurement's pixels are of. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly measurement: Measurement;
}

export interface PhotoLook {
  readonly light: Light;
  /** What the container lets through, linear. */
  readonly tint: Vector3;
}

/** Long side of the small picture that the light is read from, px. */
const GLANCE_PX = 96;
/** A camera holds the brightest tenth of an ordinary scene at about this linear value. */
const BRIGHT = 0.6;
/** How much of a photo's cast the eye has not taken for the light's own colour. */
const CAST_SHARE = 0.6;

/**
 * The light of a photo, roughly: how bright and how warm from its brightest tenth, from which side from the container's own
 * left and right half. A guess that only has to look right.
 */
export function lookOfPhoto(pixels: ImageData, photo: Pick<CarrierPhoto, 'widthPx' | 'measurement'>): PhotoLook {
  const scale = pixels.width / photo.widthPx;
  const outline = photo.measurement.outlinePx.map(([x, y]) => [x * scale, y * scale] as const);
  const middleX = outline.reduce((sum, [x]) => sum + x, 0) / Math.max(1, outline.length);
  const all: (readonly [number, number, number])[] = [];
  const inside: (readonly [number, number, number])[] = [];
  const sides = [0, 0];
  const counts = [1e-6, 1e-6];
  for (let y = 0; y < pixels.height; y++) {
    for (let x = 0; x < pixels.width; x++) {
      const colour = colourAt(pixels, x, y);
      all.push(colour);
      if (!contains(outline, [x, y])) continue;
      inside.push(colour);
      const side = x < middleX ? 0 : 1;
      sides[side] += brightness(colour);
      counts[side]++;
    }
  }
  all.sort((a, b) => brightness(a) - brightness(b));
  const bright = meanColour(all.slice(Math.floor(all.length * 0.9)));
  const middle = brightness(meanColour(all.slice(Math.floor(all.length * 0.25), Math.floor(all.length * 0.75))));
  const level = brightness(bright);
  const [left, right] = [sides[0] / counts[0], sides[1] / counts[1]];
  const fromRight = Math.max(-1, Math.min(1, (3 * (right - left)) / (right + left + 1e-6)));
  const exposure = Math.min(1.35, Math.max(0.35, level / BRIGHT));
  // the flatter the picture, the more of its light comes from everywhere
  const soft = Math.min(1, middle / (level + 1e-6));
  const cast = bright.map((c) => 1 + CAST_SHARE * (c / (level + 1e-6) - 1)) as unknown as Vector3;
  const lit = (colour: Vector3, by: number) => colour.map((c, k) => c * by * cast[k]) as unknown as Vector3;
  return {
    light: {
      towards: unit([0.75 * fromRight, -0.72, -0.55]),
      key: lit(STAGE_LIGHT.key, exposure * (1.1 - 0.35 * soft)),
      sky: lit(STAGE_LIGHT.sky, exposure * (0.75 + 0.5 * soft)),
      ground: lit(STAGE_LIGHT.ground, exposure * (0.6 + 0.6 * soft)),
    },
    tint: meanColour(inside.length > 0 ? inside : all),
  };
}

/** The container's half section as the photo shows it. */
export function sectionIn({ profile }: Measurement): Section {
  return profile.map(({ zMm, radiusMm }) => [radiusMm, zMm] as const);
}

/** How a carrier is drawn into a photo. */
export function lookIn(
  { measurement }: CarrierPhoto,
  view: PictureView,
  { light, tint }: PhotoLook,
  { colour, behind }: { readonly colour: string; readonly behind: number },
): Look {
  const stands = measurement.arrangement !== 'lying';
  // a lying container's table is seen from above by somebody who holds the phone about level
  const up = stands ? ([0, 0, 1] as const) : inContainer(view, unit([0, -0.8, -0.6]));
  return { yarn: linearRgb(colour), light, setting: { place: 'photo', up, stands, behind, tint } };
}

/** The picture small, to read its light from. */
export function glance(picture: ImageBitmap | HTMLImageElement): ImageData | null {
  const [width, height] =
    picture instanceof ImageBitmap ? [picture.width, picture.height] : [picture.naturalWidth, picture.naturalHeight];
  const scale = GLANCE_PX / Math.max(width, height);
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  if (!drawing) return null;
  drawing.imageSmoothingQuality = 'high';
  drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return drawing.getImageData(0, 0, canvas.width, canvas.height);
}

function colourAt({ data, width }: ImageData, x: number, y: number): Vector3 {
  const at = 4 * (y * width + x);
  const hex = [0, 1, 2].map((c) => data[at + c].toString(16).padStart(2, '0')).join('');
  return linearRgb(`#${hex}`);
}

function meanColour(colours: readonly Vector3[]): Vector3 {
  const count = Math.max(1, colours.length);
  return [0, 1, 2].map((c) => colours.reduce((sum, colour) => sum + colour[c], 0) / count) as unknown as Vector3;
}

/** Relative luminance (IEC 61966-2-1). */
function brightness([r, g, b]: Vector3): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
