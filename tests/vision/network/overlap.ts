import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import type { CoarseMask, CoarsePoint } from '../../../vision/network/coarse-sighting.ts';

/** Intersection over union of the mask (bilinear, cut at one half) and a polygon, on a grid of half cells. */
export function maskOverlap(
  mask: CoarseMask,
  outlinePx: readonly ImagePoint[],
  photo: { readonly widthPx: number; readonly heightPx: number },
): number {
  const stepX = mask.pxPerCell[0] / 2;
  const stepY = mask.pxPerCell[1] / 2;
  let both = 0;
  let either = 0;
  for (let y = stepY / 2; y < photo.heightPx; y += stepY) {
    const crossings = crossingsAt(outlinePx, y);
    for (let x = stepX / 2; x < photo.widthPx; x += stepX) {
      const wanted = crossings.filter((c) => c < x).length % 2 === 1;
      const seen = probabilityAt(mask, x, y) > 0.5;
      if (wanted && seen) both += 1;
      if (wanted || seen) either += 1;
    }
  }
  return both / Math.max(1, either);
}

/** The largest distance from a true corner to the guess nearest to it. */
export function worstCornerErrorPx(guesses: readonly CoarsePoint[], corners: readonly ImagePoint[]): number {
  const nearest = corners.map(([x, y]) => Math.min(...guesses.map(({ atPx }) => Math.hypot(atPx[0] - x, atPx[1] - y))));
  return Math.max(...nearest);
}

function crossingsAt(polygon: readonly ImagePoint[], y: number): number[] {
  return polygon.flatMap(([x0, y0], i) => {
    const [x1, y1] = polygon[(i + 1) % polygon.length] as ImagePoint;
    return y0 <= y === y1 <= y ? [] : [x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)];
  });
}

function probabilityAt(mask: CoarseMask, x: number, y: number): number {
  const u = clamp((x - mask.originPx[0]) / mask.pxPerCell[0], mask.widthCells - 1);
  const v = clamp((y - mask.originPx[1]) / mask.pxPerCell[1], mask.heightCells - 1);
  const c = Math.min(Math.floor(u), mask.widthCells - 2);
  const r = Math.min(Math.floor(v), mask.heightCells - 2);
  const at = (row: number, column: number) => mask.probability[row * mask.widthCells + column] ?? 0;
  const upper = at(r, c) * (1 - u + c) + at(r, c + 1) * (u - c);
  const lower = at(r + 1, c) * (1 - u + c) + at(r + 1, c + 1) * (u - c);
  return upper * (1 - v + r) + lower * (v - r);
}

function clamp(value: number, most: number): number {
  return Math.max(0, Math.min(most, value));
}
