import { useEffect, useRef } from 'react';
import type { EdgeFinder } from './snap-point.ts';
import { edgeOffset, type GreyPatch } from './snap-to-edge.ts';

/** Room around a searched point for the strip that is averaged. */
const MARGIN_PX = 8;

/**
 * Looks for edges in the photo on screen. The photo is decoded once and only small patches of it are read.
 * @param shown  null when there is no photo to snap to, or the maker switched snapping off
 */
export function useEdgeFinder(
  shown: Blob | null,
  photo: { readonly widthPx: number; readonly heightPx: number },
): EdgeFinder {
  const bitmap = useRef<ImageBitmap | null>(null);
  useEffect(() => {
    if (!shown) return;
    let current = true;
    createImageBitmap(shown, { imageOrientation: 'from-image' }).then(
      (decoded) => {
        if (current) bitmap.current = decoded;
        else decoded.close();
      },
      () => {},
    );
    return () => {
      current = false;
      bitmap.current?.close();
      bitmap.current = null;
    };
  }, [shown]);

  return (atPx, normal, reachPx) => {
    if (!bitmap.current) return null;
    const half = Math.ceil(reachPx) + MARGIN_PX;
    const [left, top] = [Math.round(atPx[0]) - half, Math.round(atPx[1]) - half];
    const patch = greyPatch(bitmap.current, photo, left, top, 2 * half + 1);
    return patch && edgeOffset(patch, [atPx[0] - left, atPx[1] - top], normal, reachPx);
  };
}

function greyPatch(
  bitmap: ImageBitmap,
  photo: { readonly widthPx: number; readonly heightPx: number },
  left: number,
  top: number,
  side: number,
): GreyPatch | null {
  const canvas = new OffscreenCanvas(side, side);
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  if (!drawing) return null;
  const [sx, sy] = [bitmap.width / photo.widthPx, bitmap.height / photo.heightPx];
  drawing.drawImage(bitmap, left * sx, top * sy, side * sx, side * sy, 0, 0, side, side);
  const { data } = drawing.getImageData(0, 0, side, side);
  // Luma of Rec. ITU-R BT.601, as OpenCV's grey.
  const grey = Float32Array.from({ length: side * side }, (_, i) => {
    return 0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2];
  });
  return { width: side, height: side, grey };
}
