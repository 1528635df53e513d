import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';

/** The cover reaches this share of the card beyond its corners, so that no rim of the face shows. */
const COVER_MARGIN = 0.06;
const COVER_COLOUR = '#d7dedb';

/** Lays an opaque cover over a card. @param scale  px of the drawing per px of the photo */
export function coverCard(drawing: OffscreenCanvasRenderingContext2D, cornersPx: CornersPx, scale: number): void {
  const onCanvas = grown(cornersPx, COVER_MARGIN).map(([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const);
  drawing.beginPath();
  for (const [x, y] of onCanvas) drawing.lineTo(x, y);
  drawing.closePath();
  drawing.fillStyle = COVER_COLOUR;
  drawing.fill();
}

/** The quadrilateral pushed outwards from its centre. */
export function grown(cornersPx: CornersPx, share: number): ImagePoint[] {
  const cx = cornersPx.reduce((sum, [x]) => sum + x, 0) / 4;
  const cy = cornersPx.reduce((sum, [, y]) => sum + y, 0) / 4;
  return cornersPx.map(([x, y]) => [x + (x - cx) * share, y + (y - cy) * share]);
}
