import type { ImagePoint } from '../geometry/frames.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';

/** Probability at a photo position, bilinear; 0 beyond the mask. */
export function maskAt(mask: CoarseMask, [xPx, yPx]: ImagePoint): number {
  const { widthCells, heightCells, probability } = mask;
  const x = (xPx - mask.originPx[0]) / mask.pxPerCell[0];
  const y = (yPx - mask.originPx[1]) / mask.pxPerCell[1];
  if (!(x > -1 && y > -1 && x < widthCells && y < heightCells)) return 0;
  const x0 = Math.min(Math.max(Math.floor(x), 0), widthCells - 1);
  const y0 = Math.min(Math.max(Math.floor(y), 0), heightCells - 1);
  const x1 = Math.min(x0 + 1, widthCells - 1);
  const y1 = Math.min(y0 + 1, heightCells - 1);
  const fx = Math.min(Math.max(x - x0, 0), 1);
  const fy = Math.min(Math.max(y - y0, 0), 1);
  const top = (1 - fx) * probability[y0 * widthCells + x0] + fx * probability[y0 * widthCells + x1];
  const bottom = (1 - fx) * probability[y1 * widthCells + x0] + fx * probability[y1 * widthCells + x1];
  return (1 - fy) * top + fy * bottom;
}

/** A connected piece of a mask, summed up: photo frame. */
export interface MaskShape {
  readonly centrePx: ImagePoint;
  /** Unit vector along the piece's long direction. */
  readonly alongPx: readonly [number, number];
  /** Standard deviations along and across. */
  readonly spreadPx: readonly [along: number, across: number];
  readonly boxPx: readonly [left: number, top: number, right: number, bottom: number];
  readonly areaPx: number;
  /** 1 in the piece's cells. */
  readonly cells: Uint8Array;
}

/** Connected pieces above one half, largest first. */
export function maskShapes(mask: CoarseMask): MaskShape[] {
  const { widthCells: w, heightCells: h, probability } = mask;
  const seen = new Uint8Array(w * h);
  const shapes: MaskShape[] = [];
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] || probability[start] < 0.5) continue;
    const cells = [start];
    seen[start] = 1;
    for (let next = 0; next < cells.length; next++) {
      const c = cells[next];
      const x = c % w;
      for (const n of [x > 0 ? c - 1 : -1, x < w - 1 ? c + 1 : -1, c - w, c + w]) {
        if (n < 0 || n >= seen.length || seen[n] || probability[n] < 0.5) continue;
        seen[n] = 1;
        cells.push(n);
      }
    }
    shapes.push(shapeOf(mask, cells));
  }
  return shapes.sort((a, b) => b.areaPx - a.areaPx);
}

function shapeOf(
  { widthCells, heightCells, originPx, pxPerCell }: MaskShapeFrame,
  members: readonly number[],
): MaskShape {
  const cells = new Uint8Array(widthCells * heightCells);
  let [sx, sy, left, top, right, bottom] = [0, 0, Infinity, Infinity, -Infinity, -Infinity];
  const points = members.map((c): [number, number] => {
    cells[c] = 1;
    const x = originPx[0] + (c % widthCells) * pxPerCell[0];
    const y = originPx[1] + Math.floor(c / widthCells) * pxPerCell[1];
    sx += x;
    sy += y;
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
    return [x, y];
  });
  const n = points.length;
  const centrePx: ImagePoint = [sx / n, sy / n];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) {
    xx += (x - centrePx[0]) ** 2 / n;
    xy += ((x - centrePx[0]) * (y - centrePx[1])) / n;
    yy += (y - centrePx[1]) ** 2 / n;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  const middle = (xx + yy) / 2;
  const apart = Math.hypot((xx - yy) / 2, xy);
  return {
    centrePx,
    alongPx: [Math.cos(angle), Math.sin(angle)],
    spreadPx: [Math.sqrt(middle + apart), Math.sqrt(Math.max(middle - apart, 0))],
    boxPx: [left - pxPerCell[0] / 2, top - pxPerCell[1] / 2, right + pxPerCell[0] / 2, bottom + pxPerCell[1] / 2],
    areaPx: n * pxPerCell[0] * pxPerCell[1],
    cells,
  };
}

type MaskShapeFrame = Pick<CoarseMask, 'widthCells' | 'heightCells' | 'originPx' | 'pxPerCell'>;

/** The piece that holds the tapped point or touches its cell, null when none does; without a tap the largest. */
export function chosenShape(mask: CoarseMask, tapPx: ImagePoint | undefined): MaskShape | null {
  const shapes = maskShapes(mask);
  if (!tapPx) return shapes[0] ?? null;
  const column = Math.round((tapPx[0] - mask.originPx[0]) / mask.pxPerCell[0]);
  const row = Math.round((tapPx[1] - mask.originPx[1]) / mask.pxPerCell[1]);
  const holds = ({ cells }: MaskShape, reach: number) => {
    for (let r = Math.max(row - reach, 0); r <= Math.min(row + reach, mask.heightCells - 1); r++) {
      for (let c = Math.max(column - reach, 0); c <= Math.min(column + reach, mask.widthCells - 1); c++) {
        if (cells[r * mask.widthCells + c] === 1) return true;
      }
    }
    return false;
  };
  return shapes.find((shape) => holds(shape, 0)) ?? shapes.find((shape) => holds(shape, 1)) ?? null;
}
