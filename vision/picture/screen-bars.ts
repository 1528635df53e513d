import { isCameraAspect } from './lens-facts.ts';
import type { Photo } from './photo.ts';

/** Levels within which a bar is of one colour, once it has been through a JPEG. tests/vision/picture/screen-bars.test.ts */
const ONE_COLOUR = 12;
/** Bars differ by this share of the picture's side when it is shown in the middle of a screen. */
const MIDDLE = 0.01;
/** Every so many pixels of a row or column are looked at. */
const SAMPLING = 7;

/**
 * A screenshot shows a picture between bars of one colour. The lens belongs to the picture alone: without the bars its
 * proportions are again those of a camera, and its diagonal the one that focal lengths refer to.
 * @returns the photo itself where there are no such bars
 */
export function withLensOfContent(photo: Photo): Photo {
  const { widthPx, heightPx } = photo;
  const bars = barsAlong(photo, 'rows') || barsAlong(photo, 'columns');
  if (!bars) return photo;
  const [wide, high] = bars.along === 'rows' ? [widthPx, heightPx - bars.px] : [widthPx - bars.px, heightPx];
  if (!isCameraAspect(wide, high)) return photo;
  return { ...photo, lens: { ...photo.lens, looksCropped: false, frameDiagonalPx: Math.hypot(wide, high) } };
}

/** Both bars together; null when there are none, or the picture is not in the middle. */
function barsAlong(
  photo: Photo,
  along: 'rows' | 'columns',
): { readonly along: typeof along; readonly px: number } | null {
  const [lines, length] = along === 'rows' ? [photo.heightPx, photo.widthPx] : [photo.widthPx, photo.heightPx];
  const at = (line: number, k: number) => 4 * (along === 'rows' ? line * photo.widthPx + k : k * photo.widthPx + line);
  const isBar = (line: number) => {
    for (let k = 0; k < length; k += SAMPLING) {
      for (let channel = 0; channel < 3; channel++) {
        if (Math.abs(photo.rgba[at(line, k) + channel] - photo.rgba[channel]) > ONE_COLOUR) return false;
      }
    }
    return true;
  };
  let first = 0;
  while (first < lines / 2 && isBar(first)) first++;
  let last = 0;
  while (last < lines / 2 && isBar(lines - 1 - last)) last++;
  const isMiddle = first > 0 && last > 0 && Math.abs(first - last) < MIDDLE * lines;
  return isMiddle && first < lines / 2 ? { along, px: first + last } : null;
}
