import type { ImagePoint } from '../geometry/frames.ts';
import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import { shrinkPhotoTo } from '../picture/picture.ts';
import type { CoarseMask } from './coarse-sighting.ts';
import { LOOKED_AT_PX, type Look } from './look-any-way-up.ts';

/**
 * The body that a look sees in the mirror, as it lies in the picture. A mirrored container is as likely as the container, but
 * the network errs differently on it: what both say is surer than what one says.
 */
export function bodyInMirror(cv: Cv, look: Look, picture: Photo, tapPx: ImagePoint | undefined): CoarseMask {
  const shrink = Math.max(1, Math.max(picture.widthPx, picture.heightPx) / LOOKED_AT_PX);
  const [small] = shrinkPhotoTo(cv, picture, [shrink]);
  const lastPx = small.widthPx - 1;
  const tap = tapPx && ([lastPx - toSmall(tapPx[0], shrink), toSmall(tapPx[1], shrink)] as const);
  const { bodyMask } = look(mirrored({ ...small, lens: picture.lens }), tap);
  return maskBack(bodyMask, lastPx, shrink);
}

function toSmall(px: number, shrink: number): number {
  return (px + 0.5) / shrink - 0.5;
}

function mirrored({ widthPx, heightPx, rgba, lens }: Photo): Photo {
  const turned = new Uint8ClampedArray(rgba.length);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const from = 4 * (y * widthPx + x);
      turned.set(rgba.subarray(from, from + 4), 4 * (y * widthPx + widthPx - 1 - x));
    }
  }
  return { widthPx, heightPx, rgba: turned, lens };
}

function maskBack(
  { widthCells, heightCells, probability, originPx, pxPerCell }: CoarseMask,
  lastPx: number,
  shrink: number,
): CoarseMask {
  const back = probability.map((_, k) => {
    const column = k % widthCells;
    return probability[k - column + widthCells - 1 - column];
  });
  const lastCellPx = originPx[0] + (widthCells - 1) * pxPerCell[0];
  const onPicture = (px: number) => (px + 0.5) * shrink - 0.5;
  return {
    widthCells,
    heightCells,
    probability: back,
    originPx: [onPicture(lastPx - lastCellPx), onPicture(originPx[1])],
    pxPerCell: [pxPerCell[0] * shrink, pxPerCell[1] * shrink],
  };
}
