import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';

/** The cover reaches this share of the card beyond its corners, so that no rim of the face shows. */
const COVER_MARGIN = 0.06;
const COVER_COLOUR = '#d7dedb';

/** Lays an opaque cover over a card. @param scale  px of the drawing per px of the photo */
export function coverCard(drawing: OffscreenCanvasRenderingContext2D, cornersPx: CornersPx, scale: number): void {
  fill(drawing, grown(cornersPx, COVER_MARGIN), scale);
}

/**
 * The face ends this share of the card before its corners, 2.7 mm above and below on a bank card: what is printed or
 * embossed there lies farther in (ISO/IEC 7811-1, from memory), and by its edges the card is found again.
 */
const EDGE_SHARE = -0.1;

export function faceOf(cornersPx: CornersPx): ImagePoint[] {
  return grown(cornersPx, EDGE_SHARE);
}

/** Covers a card's face and leaves its edges. */
export function coverFace(drawing: OffscreenCanvasRenderingContext2D, cornersPx: CornersPx, scale: number): void {
  fill(drawing, faceOf(cornersPx), scale);
}

function fill(drawing: OffscreenCanvasRenderingContext2D, shapePx: readonly ImagePoint[], scale: number): void {
  drawing.beginPath();
  for (const [x, y] of shapePx) drawing.lineTo((x + 0.5) * scale, (y + 0.5) * scale);
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
