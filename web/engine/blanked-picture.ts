import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';

/** Long side of kept pictures: enough to recognise a bottle and see its outline. */
const LONG_SIDE_PX = 1600;
/** The cover reaches this share of the card beyond its corners, so that no rim of the face shows. */
const COVER_MARGIN = 0.06;

/**
 * The only way a picture leaves the measuring step: small, the card's face under an opaque cover, drawn anew so that
 * no metadata of the file survives.
 * @param picture   the photo in any format the browser shows
 * @param cards     corners of every place the card was found or placed at, in px of a photo `widthPx` wide: a corner
 *                  pulled away by hand must not uncover the face
 * @returns JPEG, long side at most 1600 px; null when the picture cannot be drawn
 */
export async function blankedPicture(
  picture: Blob,
  cards: readonly CornersPx[],
  photo: { readonly widthPx: number; readonly heightPx: number },
): Promise<Blob | null> {
  const bitmap = await createImageBitmap(picture, { imageOrientation: 'from-image' }).catch(() => null);
  if (!bitmap) return null;
  const scale = Math.min(1, LONG_SIDE_PX / Math.max(photo.widthPx, photo.heightPx));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(photo.widthPx * scale);
  canvas.height = Math.round(photo.heightPx * scale);
  const drawing = canvas.getContext('2d');
  if (!drawing) return null;
  drawing.imageSmoothingQuality = 'high';
  drawing.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  for (const cornersPx of cards) coverCard(drawing, cornersPx, scale);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85));
}

function coverCard(drawing: CanvasRenderingContext2D, cornersPx: CornersPx, scale: number): void {
  const onCanvas = grown(cornersPx, COVER_MARGIN).map(([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const);
  drawing.beginPath();
  for (const [x, y] of onCanvas) drawing.lineTo(x, y);
  drawing.closePath();
  drawing.fillStyle = '#d7dedb';
  drawing.fill();
}

/** The quadrilateral pushed outwards from its centre. */
export function grown(cornersPx: CornersPx, share: number): ImagePoint[] {
  const cx = cornersPx.reduce((sum, [x]) => sum + x, 0) / 4;
  const cy = cornersPx.reduce((sum, [, y]) => sum + y, 0) / 4;
  return cornersPx.map(([x, y]) => [x + (x - cx) * share, y + (y - cy) * share]);
}
