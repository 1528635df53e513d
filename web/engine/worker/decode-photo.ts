import type { Photo } from '../../../vision/picture/photo.ts';
import { headerPixels } from './header-pixels.ts';
import { isHeic, looksLikePicture, MOST_PIXELS } from './photo-file.ts';
import type { OpenProblem } from './questions.ts';

/** Larger photos are measured at this size: OpenCV's heap ends at 1 GB and the extra pixels add nothing. */
const MAX_MEASURED_PIXELS = 24e6;

export type Decoded =
  | { readonly ok: true; readonly photo: Photo; readonly display: Blob | null }
  | { readonly ok: false; readonly reason: OpenProblem };

/** Photo file -> upright pixels and lens facts. Never throws: whatever is wrong with the file comes back as a reason. */
export async function decodePhoto(file: Blob): Promise<Decoded> {
  const bytes = await file.arrayBuffer().catch(() => null);
  if (!bytes || bytes.byteLength === 0) return { ok: false, reason: 'damaged' };
  const { readMetadata } = await import('../../../vision/picture/lens-facts.ts');
  const metadata = readMetadata(bytes);
  if (Math.max(metadata.statedPixels, headerPixels(bytes)) > MOST_PIXELS) return { ok: false, reason: 'too-large' };
  const heic = isHeic(bytes);
  if (!heic && !looksLikePicture(bytes)) return { ok: false, reason: 'not-a-photo' };
  try {
    const picture = heic
      ? await decodeHeicPicture(bytes)
      : await createImageBitmap(file, { imageOrientation: 'from-image' });
    const canvas = drawToMeasuredSize(picture);
    picture.close();
    const { width: widthPx, height: heightPx } = canvas;
    const rgba = context(canvas).getImageData(0, 0, widthPx, heightPx).data;
    const display = heic ? await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 }) : null;
    return {
      ok: true,
      photo: { widthPx, heightPx, rgba, lens: metadata.lens({ widthPx, heightPx }) },
      display,
    };
  } catch {
    return { ok: false, reason: 'damaged' };
  }
}

function drawToMeasuredSize(picture: ImageBitmap): OffscreenCanvas {
  const scale = Math.min(1, Math.sqrt(MAX_MEASURED_PIXELS / (picture.width * picture.height)));
  const canvas = new OffscreenCanvas(
    Math.max(1, Math.round(picture.width * scale)),
    Math.max(1, Math.round(picture.height * scale)),
  );
  const drawing = context(canvas);
  drawing.imageSmoothingQuality = 'high';
  drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

function context(canvas: OffscreenCanvas): OffscreenCanvasRenderingContext2D {
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  if (!drawing) throw new Error('no 2d canvas');
  return drawing;
}

async function decodeHeicPicture(bytes: ArrayBuffer): Promise<ImageBitmap> {
  const { decodeHeic } = await import('./decode-heic.ts');
  const { rgba, widthPx, heightPx } = await decodeHeic(bytes);
  return createImageBitmap(new ImageData(rgba, widthPx, heightPx));
}
