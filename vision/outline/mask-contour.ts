import type { ImagePoint } from '../geometry/frames.ts';
import { signedArea } from '../geometry/polygon.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import { chosenShape, type MaskShape } from './mask-shape.ts';

/** A cell's four sides: to the neighbour, and the cell's corners where the side begins and ends, clockwise as seen. */
const SIDES = [
  { across: [0, -1], from: [0, 0], to: [1, 0] },
  { across: [1, 0], from: [1, 0], to: [1, 1] },
  { across: [0, 1], from: [1, 1], to: [0, 1] },
  { across: [-1, 0], from: [0, 1], to: [0, 0] },
] as const;

/**
 * Where a piece of a mask falls to one half, by linear interpolation between the centres of cells: its outer border as a
 * closed polygon, photo frame, clockwise as seen. Beyond its grid the mask counts as empty.
 */
export function maskContour(
  { widthCells, heightCells, probability, originPx, pxPerCell }: CoarseMask,
  { cells }: Pick<MaskShape, 'cells'>,
): readonly ImagePoint[] {
  const onGrid = (x: number, y: number) => x >= 0 && y >= 0 && x < widthCells && y < heightCells;
  const isInside = (x: number, y: number) => onGrid(x, y) && cells[y * widthCells + x] === 1;
  const corner = (x: number, y: number) => y * (widthCells + 1) + x;
  const steps = new Map<number, { readonly to: number; readonly at: ImagePoint }[]>();
  cells.forEach((cell, k) => {
    if (cell === 0) return;
    const [x, y] = [k % widthCells, Math.floor(k / widthCells)];
    for (const { across, from, to } of SIDES) {
      const [nx, ny] = [x + across[0], y + across[1]];
      if (isInside(nx, ny)) continue;
      const beyond = onGrid(nx, ny) ? Math.min(probability[ny * widthCells + nx], 0.5) : 0;
      const share = probability[k] > beyond ? (probability[k] - 0.5) / (probability[k] - beyond) : 0.5;
      const at: ImagePoint = [
        originPx[0] + (x + share * across[0]) * pxPerCell[0],
        originPx[1] + (y + share * across[1]) * pxPerCell[1],
      ];
      const start = corner(x + from[0], y + from[1]);
      steps.set(start, [...(steps.get(start) ?? []), { to: corner(x + to[0], y + to[1]), at }]);
    }
  });
  let outermost: ImagePoint[] = [];
  for (const start of steps.keys()) {
    const loop: ImagePoint[] = [];
    let step = steps.get(start)?.pop();
    while (step) {
      loop.push(step.at);
      step = steps.get(step.to)?.pop();
    }
    if (signedArea(loop) > signedArea(outermost)) outermost = loop;
  }
  return outermost;
}

/** The contour of the piece that was tapped, or of the largest; null when there is none. */
export function contourSeen(mask: CoarseMask, tapPx: ImagePoint | undefined): readonly ImagePoint[] | null {
  const shape = chosenShape(mask, tapPx);
  return shape && maskContour(mask, shape);
}
