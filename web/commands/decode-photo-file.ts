import sharp from 'sharp';
import { type Problem, problem } from '../../vision/measurement.ts';
import { readMetadata } from '../../vision/picture/lens-facts.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodeHeic } from '../engine/worker/decode-heic.ts';
import { headerPixels } from '../engine/worker/header-pixels.ts';
import { isHeic, MOST_PIXELS } from '../engine/worker/photo-file.ts';
import { readRegularFile } from './regular-file.ts';

export type OpenedFile =
  | { readonly ok: true; readonly photo: Photo }
  | { readonly ok: false; readonly reason: Problem };

const UNREADABLE = 'unreadable-photo';

/** Reads a photo file upright and at full size; whatever is wrong with it comes back as a reason. */
export async function openPhotoFile(path: string): Promise<OpenedFile> {
  const file = await readRegularFile(path);
  if (typeof file === 'string') return { ok: false, reason: { code: UNREADABLE, message: file } };
  const bytes = file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer;
  const metadata = readMetadata(bytes);
  try {
    if (Math.max(metadata.statedPixels, headerPixels(bytes), await sharpPixels(file)) > MOST_PIXELS)
      return { ok: false, reason: problem('photo-too-large') };
    const picture = isHeic(bytes) ? await decodeHeicQuietly(bytes) : await decodeOther(file);
    return { ok: true, photo: { ...picture, lens: metadata.lens(picture) } };
  } catch {
    return { ok: false, reason: problem(UNREADABLE) };
  }
}

/** The photo, or null for whatever reason. */
export async function decodePhotoFile(path: string): Promise<Photo | null> {
  const opened = await openPhotoFile(path);
  return opened.ok ? opened.photo : null;
}

/** Pixel count as libvips reads it from the header, for formats that the other readers do not know; 0 when it is none. */
async function sharpPixels(file: Buffer): Promise<number> {
  return sharp(file, { limitInputPixels: false })
    .metadata()
    .then(({ width, height }) => width * height)
    .catch(() => 0);
}

async function decodeOther(file: Buffer): Promise<Pick<Photo, 'widthPx' | 'heightPx' | 'rgba'>> {
  const { data, info } = await sharp(file, { limitInputPixels: MOST_PIXELS, failOn: 'truncated' })
    .rotate()
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return {
    widthPx: info.width,
    heightPx: info.height,
    rgba: new Uint8Array(data.buffer, data.byteOffset, data.length),
  };
}

/** What libheif has to say about a damaged file it says on standard output, among the command's own lines. */
async function decodeHeicQuietly(bytes: ArrayBuffer): ReturnType<typeof decodeHeic> {
  const { log } = console;
  console.log = () => {};
  try {
    return await decodeHeic(bytes);
  } finally {
    console.log = log;
  }
}
