import type { CornersPx } from '../../vision/geometry/frames.ts';

/** The square about a coin lying in the lower left of the photo, to be pulled onto the real one. */
export function startingCoin(photo: { readonly widthPx: number; readonly heightPx: number }): CornersPx {
  const [cx, cy] = [photo.widthPx * 0.25, photo.heightPx * 0.8];
  const half = Math.min(photo.widthPx, photo.heightPx) * 0.07;
  return [
    [cx - half, cy - 0.7 * half],
    [cx + half, cy - 0.7 * half],
    [cx + half, cy + 0.7 * half],
    [cx - half, cy + 0.7 * half],
  ];
}

/** A card lying in the lower middle of the photo, to be pulled onto the real one. */
export function startingCard(photo: { readonly widthPx: number; readonly heightPx: number }): CornersPx {
  const [cx, cy] = [photo.widthPx / 2, photo.heightPx * 0.75];
  const halfWidth = photo.widthPx * 0.15;
  const halfHeight = halfWidth * 0.5;
  return [
    [cx - halfWidth * 0.9, cy - halfHeight],
    [cx + halfWidth * 0.9, cy - halfHeight],
    [cx + halfWidth, cy + halfHeight],
    [cx - halfWidth, cy + halfHeight],
  ];
}
