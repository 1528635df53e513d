import type { Photo } from '../../../vision/picture/photo.ts';
import { headerPixels } from './header-pixels.ts';
import type { OpenProblem } from './questions.ts';

/** Larger photos are measured at this size: OpenCV's heap ends at 1 GB and the extra pixels add nothing. */
const MAX_MEASURED_PIXELS = 24e6;
/** Beyond this a file is refused before its pixels are asked for; no phone takes more. */
const MAX_PIXELS = 130e6;
/** ISO base media brands of HEIC and HEIF stills (ISO/IEC 23008-12). */
const HEIC_BRANDS = ['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1'];

export type Decoded =
  | { readonly ok: true; readonly photo: Photo; readonly display: Blob | null }
  | { readonly ok: false; readonly reason: OpenProblem };

/** Photo file -> upright pixels and lens facts. Never throws: whatever is wrong with the file comes back as a reason. */
export async function decodePhoto(file: Blob): Promise<Decoded> {
  const bytes = await file.arrayBuffer().catch(() => null);
  if (!bytes || bytes.byteLength === 0) return { ok: false, reason: 'damaged' };
  const { readMetadata } = await import('../../../vision/picture/lens-facts.ts');
  const metadata = readMetadata(bytes);
  if (Math.max(metadata.statedPixels, headerPixels(bytes)) > MAX_PIXELS) return { ok: false, reason: 'too-large' };
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
  return createImageBitmap(await decodeHeic(bytes));
}

function isHeic(bytes: ArrayBuffer): boolean {
  return ascii(bytes, 4, 8) === 'ftyp' && HEIC_BRANDS.includes(ascii(bytes, 8, 12));
}

/** First bytes of the formats browsers decode: JPEG, PNG, WebP, AVIF, GIF, BMP. */
function looksLikePicture(bytes: ArrayBuffer): boolean {
  const start = new Uint8Array(bytes, 0, Math.min(4, bytes.byteLength));
  return (
    (start[0] === 0xff && start[1] === 0xd8) ||
    (start[0] === 0x89 && ascii(bytes, 1, 4) === 'PNG') ||
    (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 12) === 'WEBP') ||
    (ascii(bytes, 4, 8) === 'ftyp' && ascii(bytes, 8, 11) === 'avi') ||
    ascii(bytes, 0, 3) === 'GIF' ||
    ascii(bytes, 0, 2) === 'BM'
  );
}

function ascii(bytes: ArrayBuffer, from: number, to: number): string {
  return String.fromCharCode(...new Uint8Array(bytes.slice(from, to)));
}
