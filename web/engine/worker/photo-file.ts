/** Beyond this a file is refused before its pixels are asked for, by page and commands alike. */
export const MOST_PIXELS = 130e6;
/** ISO base media brands of HEIC and HEIF stills (ISO/IEC 23008-12). */
const HEIC_BRANDS = ['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1'];

export function isHeic(bytes: ArrayBuffer): boolean {
  return ascii(bytes, 4, 8) === 'ftyp' && HEIC_BRANDS.includes(ascii(bytes, 8, 12));
}

/** First bytes of the formats browsers decode: JPEG, PNG, WebP, AVIF, GIF, BMP. */
export function looksLikePicture(bytes: ArrayBuffer): boolean {
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
