import type { CornersPx } from '../../../vision/geometry/frames.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { coverCard, coverFace } from './cover.ts';
import type { Covered } from './worker-api.ts';

/** Long side of kept pictures: enough to recognise a bottle and see its outline. */
const LONG_SIDE_PX = 1600;

/**
 * The only way a picture leaves the measuring step: small, opaque covers over all these places, drawn anew from pixels so
 * that no metadata of the file survives.
 * @param places  wherever a card was ever found, guessed or placed, and all else that may be one, px of the photo
 * @returns JPEG, long side at most 1600 px; null when it cannot be drawn
 */
export async function coveredPicture(photo: Photo, places: readonly CornersPx[]): Promise<Covered | null> {
  const scale = Math.min(1, LONG_SIDE_PX / Math.max(photo.widthPx, photo.heightPx));
  const drawing = await drawn(photo, scale);
  if (!drawing) return null;
  for (const place of places) coverCard(drawing, place, scale);
  return { picture: await drawing.canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 }), places };
}

/**
 * The photo at the size it is measured at, every face covered but for the card's edges: it measures as the photo does, so
 * it can lie aside for a reload in the photo's place.
 */
export async function faceless(photo: Photo, places: readonly CornersPx[]): Promise<Blob | null> {
  const drawing = await drawn(photo, 1);
  if (!drawing) return null;
  for (const place of places) coverFace(drawing, place, 1);
  return drawing.canvas.convertToBlob({ type: 'image/jpeg', quality: 0.95 });
}

async function drawn(photo: Photo, scale: number): Promise<OffscreenCanvasRenderingContext2D | null> {
  const pixels = new ImageData(photo.rgba as Uint8ClampedArray<ArrayBuffer>, photo.widthPx, photo.heightPx);
  const bitmap = await createImageBitmap(pixels);
  const canvas = new OffscreenCanvas(Math.round(photo.widthPx * scale), Math.round(photo.heightPx * scale));
  const drawing = canvas.getContext('2d');
  if (drawing) {
    drawing.imageSmoothingQuality = 'high';
    drawing.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  }
  bitmap.close();
  return drawing;
}
