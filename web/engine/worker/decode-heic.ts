import createHeif from 'libheif-js/libheif-wasm/libheif-bundle.mjs';

/** Largest side and area libheif may be asked to decode. */
const MAX_PIXELS = 130e6;

/**
 * First picture of a HEIC or HEIF file, rotated as the file says.
 * @throws Error when the file holds none or is damaged
 */
export async function decodeHeic(bytes: ArrayBuffer): Promise<ImageData> {
  const heif = await createHeif();
  const [picture, ...others] = new heif.HeifDecoder().decode(new Uint8Array(bytes));
  for (const other of others) other.free();
  if (!picture) throw new Error('no picture in this HEIC file');
  const [width, height] = [picture.get_width(), picture.get_height()];
  if (!(width * height > 0 && width * height <= MAX_PIXELS)) throw new Error('HEIC size out of range');
  const image = new ImageData(width, height);
  await new Promise<void>((resolve, reject) => {
    picture.display(image, (shown) => (shown ? resolve() : reject(new Error('HEIC could not be decoded'))));
  });
  picture.free();
  return image;
}
