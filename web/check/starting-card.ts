import type { CornersPx } from '../../vision/frames.ts';

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
