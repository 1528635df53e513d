import { useEffect, useRef } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { GreyPatch } from './snap-to-edge.ts';

/** Reads the part of the photo around some points; null while the photo is not there. */
export type ReadGreyPatch = (around: readonly ImagePoint[], marginPx: number) => GreyPatch | null;

/**
 * Grey values of the photo on screen. The photo is decoded once and only the part asked for is read.
 * @param shown  null when nothing will be asked: no photo, or snapping is switched off
 */
export function useGreyPatch(
  shown: Blob | null,
  photo: { readonly widthPx: number; readonly heightPx: number },
): ReadGreyPatch {
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
  return (around, marginPx) => bitmap.current && readPatch(bitmap.current, photo, around, marginPx);
}

function readPatch(
  bitmap: ImageBitmap,
  photo: { readonly widthPx: number; readonly heightPx: number },
  around: readonly ImagePoint[],
  marginPx: number,
): GreyPatch | null {
  const xs = around.map(([x]) => x);
  const ys = around.map(([, y]) => y);
  const leftPx = Math.max(0, Math.floor(Math.min(...xs) - marginPx));
  const topPx = Math.max(0, Math.floor(Math.min(...ys) - marginPx));
  const width = Math.min(photo.widthPx, Math.ceil(Math.max(...xs) + marginPx)) - leftPx;
  const height = Math.min(photo.heightPx, Math.ceil(Math.max(...ys) + marginPx)) - topPx;
  if (width < 2 || height < 2) return null;
  const drawing = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (!drawing) return null;
  const [sx, sy] = [bitmap.width / photo.widthPx, bitmap.height / photo.heightPx];
  drawing.drawImage(bitmap, leftPx * sx, topPx * sy, width * sx, height * sy, 0, 0, width, height);
  const { data } = drawing.getImageData(0, 0, width, height);
  const grey = new Float32Array(width * height);
  // Luma of Rec. ITU-R BT.601, as OpenCV's grey.
  for (let i = 0; i < grey.length; i += 1) {
    grey[i] = 0.299 * data[4 * i] + 0.587 * data[4 * i + 1] + 0.114 * data[4 * i + 2];
  }
  return { leftPx, topPx, width, height, grey };
}
