import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import { lensFactsFromFile } from '../../vision/picture/lens-facts.ts';
import type { Photo } from '../../vision/picture/photo.ts';

/** Larger pictures are refused before they are unpacked. */
const MAX_PIXELS = 100e6;

/**
 * Reads a photo file upright and at full size.
 * @returns null when the file is missing, not a picture, broken or absurdly large
 */
export async function decodePhotoFile(path: string): Promise<Photo | null> {
  try {
    const file = await readFile(path);
    const { data, info } = await sharp(file, { limitInputPixels: MAX_PIXELS, failOn: 'truncated' })
      .rotate()
      .toColourspace('srgb')
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const size = { widthPx: info.width, heightPx: info.height };
    const bytes = file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer;
    return {
      ...size,
      rgba: new Uint8Array(data.buffer, data.byteOffset, data.length),
      lens: lensFactsFromFile(bytes, size),
    };
  } catch {
    return null;
  }
}
