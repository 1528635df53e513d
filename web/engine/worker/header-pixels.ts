/**
 * Pixel count as the header of a JPEG (any start-of-frame marker, ITU-T T.81 B.2.2) or of a BMP states it, for sizes that
 * the metadata reader leaves out; 0 when it does not say.
 */
export function headerPixels(file: ArrayBuffer): number {
  const view = new DataView(file);
  if (view.byteLength < 2) return 0;
  if (view.getUint16(0) === 0x424d && view.byteLength >= 26)
    return Math.abs(view.getInt32(18, true) * view.getInt32(22, true));
  return view.getUint16(0) === 0xffd8 ? jpegPixels(view) : 0;
}

/** Start of frame: C0 to CF but for C4 (tables), C8 (reserved) and CC (arithmetic conditioning). */
const NO_FRAMES = [0xc4, 0xc8, 0xcc];

function jpegPixels(view: DataView): number {
  let at = 2;
  while (at + 9 < view.byteLength && view.getUint8(at) === 0xff) {
    const marker = view.getUint8(at + 1);
    if (marker >= 0xc0 && marker <= 0xcf && !NO_FRAMES.includes(marker)) {
      return view.getUint16(at + 5) * view.getUint16(at + 7);
    }
    at += 2 + view.getUint16(at + 2);
  }
  return 0;
}
