import createHeif from 'libheif-js/libheif-wasm/libheif-bundle.mjs';
import { MOST_PIXELS } from './photo-file.ts';

interface Pixels {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly rgba: Uint8ClampedArray<ArrayBuffer>;
}

/**
 * First picture of a HEIC or HEIF file, rotated as the file says; in a browser and in Node.
 * @throws Error when the file holds none or is damaged
 */
export async function decodeHeic(bytes: ArrayBuffer): Promise<Pixels> {
  const heif = await createHeif();
  const [picture, ...others] = new heif.HeifDecoder().decode(new Uint8Array(bytes));
  for (const other of others) other.free();
  if (!picture) throw new Error('no picture in this HEIC file');
  const [widthPx, heightPx] = [picture.get_width(), picture.get_height()];
  if (!(widthPx * heightPx > 0 && widthPx * heightPx <= MOST_PIXELS)) throw new Error('HEIC size out of range');
  const rgba = new Uint8ClampedArray(4 * widthPx * heightPx);
  await new Promise<void>((resolve, reject) => {
    picture.display({ data: rgba, width: widthPx, height: heightPx }, (shown) =>
      shown ? resolve() : reject(new Error('HEIC could not be decoded')),
    );
  });
  picture.free();
  return { widthPx, heightPx, rgba };
}
