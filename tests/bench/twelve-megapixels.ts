import sharp from 'sharp';

export const BENCH_SAMPLES = ['jar-standing-on-linen', 'tumbler-standing-on-dark-desk', 'jam-jar-lying-on-linen'];

/** A sample photo enlarged to 12 megapixels, as a phone makes them. */
export async function twelveMegapixelFile(name: string): Promise<Buffer> {
  const photo = sharp(`sample-images/${name}.jpg`);
  const { autoOrient } = await photo.metadata();
  const [width, height] = autoOrient.width > autoOrient.height ? [4032, 3024] : [3024, 4032];
  return photo.rotate().resize(width, height, { fit: 'fill' }).jpeg({ quality: 90 }).toBuffer();
}
