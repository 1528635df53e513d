import type { PhotoFacts } from '../engine/measuring.ts';

/** What a photo is that came from somebody else: as the camera took it, a copy that lost the lens, or of a screen. */
export type SentPhoto = 'as-taken' | 'copy' | 'screenshot';

/** No camera app saves stills this long; the screens of phones are (19.5 : 9 and more, makers' data sheets, from memory). */
const SCREEN_ASPECT = 1.9;

/** @param mimeType  of the file as it came */
export function sentPhoto({ widthPx, heightPx, lens }: PhotoFacts, mimeType: string): SentPhoto {
  if (lens.focal35Mm !== null) return 'as-taken';
  const aspect = Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
  // Phones photograph in JPEG or HEIC and save what is on their screens as PNG.
  return mimeType === 'image/png' || aspect >= SCREEN_ASPECT ? 'screenshot' : 'copy';
}
