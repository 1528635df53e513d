import { describe, expect, it } from 'vitest';
import { lensFactsFromFile } from '../../../vision/picture/lens-facts.ts';
import { jpegWithExif } from '../../support/exif-jpeg.ts';

const UPRIGHT = { widthPx: 400, heightPx: 300 };

describe('lensFactsFromFile', () => {
  it('reads the 35 mm-equivalent focal length a phone wrote', async () => {
    const file = await jpegWithExif({ FocalLengthIn35mmFilm: 26 });
    expect(lensFactsFromFile(file, UPRIGHT)).toEqual({ focal35Mm: 26, looksCropped: false });
  });

  it('works it out from focal length and focal-plane resolution when the equivalent is missing (Exif 2.32 tags)', async () => {
    // 4000 × 3000 px at 1000 px/mm is a 4 × 3 mm sensor, diagonal 5 mm; 5 mm focal length is one diagonal: 43.27 mm.
    const file = await jpegWithExif({
      FocalLength: 5,
      FocalPlaneXResolution: 10000,
      FocalPlaneResolutionUnit: 3,
      PixelXDimension: 4000,
      PixelYDimension: 3000,
    });
    expect(lensFactsFromFile(file, UPRIGHT).focal35Mm).toBeCloseTo(Math.hypot(36, 24), 6);
  });

  it('takes a zero, negative or absurd focal length for no focal length', async () => {
    for (const nonsense of [0, 5, 20_000]) {
      expect(lensFactsFromFile(await jpegWithExif({ FocalLengthIn35mmFilm: nonsense }), UPRIGHT).focal35Mm).toBeNull();
    }
  });

  it('says that a picture of another shape than the camera made looks cropped', async () => {
    const file = await jpegWithExif({ PixelXDimension: 4000, PixelYDimension: 2250 });
    expect(lensFactsFromFile(file, UPRIGHT).looksCropped).toBe(true);
    expect(lensFactsFromFile(file, { widthPx: 400, heightPx: 225 }).looksCropped).toBe(false);
  });

  it('says that a shape no camera makes looks cropped', async () => {
    expect(lensFactsFromFile(await jpegWithExif({}), { widthPx: 400, heightPx: 350 }).looksCropped).toBe(true);
  });

  it('finds nothing in bytes that are no photo, without an error', () => {
    const noise = Uint8Array.from({ length: 500 }, (_, k) => (k * 37) % 256).buffer;
    expect(lensFactsFromFile(noise, UPRIGHT).focal35Mm).toBeNull();
    expect(lensFactsFromFile(new ArrayBuffer(0), UPRIGHT).focal35Mm).toBeNull();
  });
});
