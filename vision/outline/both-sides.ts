import { cameraPoint } from '../container/container-model.ts';
import type { ContainerFit } from '../container/fit-container.ts';
import { projectPoint } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import type { LocatedPoint } from './doubtful-points.ts';

/** An edge with the height over the base where it was expected, mm. */
export interface WallPoint extends LocatedPoint {
  readonly zMm: number;
}

/** Shares of the height between which the outline is wall; beyond it runs along the ends. */
const WALL = [0.03, 0.97] as const;
/** Heights within this share of the container's are the same. */
const SAME_HEIGHT = 0.012;
/** Sides may differ by this many joint sds without raising doubt. */
const TOLERATED_SDS = 2;

/**
 * A round container is as wide to the left of its axis as to the right. Where the edges of both sides at one height
 * disagree, one of them is a shadow's, a reflection's or something else's, and nothing tells which: what exceeds their
 * noise is added to the sd of both.
 */
export function withSideDoubt(edges: readonly WallPoint[], fit: ContainerFit): WallPoint[] {
  const axis = axisInImage(fit);
  const wall = edges
    .filter(({ zMm }) => zMm > WALL[0] * fit.state.heightMm && zMm < WALL[1] * fit.state.heightMm)
    .map((edge) => ({ edge, side: sideOf(edge, axis), offsetPx: outwards(edge) }));
  const differences = new Map<WallPoint, number>();
  for (const { edge, side, offsetPx } of wall) {
    const opposite = wall.filter(
      (other) => other.side !== side && Math.abs(other.edge.zMm - edge.zMm) < SAME_HEIGHT * fit.state.heightMm,
    );
    if (opposite.length > 0) differences.set(edge, side * (offsetPx - median(opposite.map((other) => other.offsetPx))));
  }
  // an axis that is off by a little moves all of one side out and all of the other in
  const common = median([...differences.values()]);
  return edges.map((edge) => {
    const difference = differences.get(edge);
    const excess =
      difference === undefined ? 0 : Math.abs(difference - common) - TOLERATED_SDS * Math.SQRT2 * edge.point.sdPx;
    return excess > 0 ? { ...edge, point: { ...edge.point, sdPx: Math.hypot(edge.point.sdPx, excess) } } : edge;
  });
}

function axisInImage({ state }: ContainerFit): readonly [base: ImagePoint, top: ImagePoint] {
  const onAxis = (zMm: number): ImagePoint => {
    const [x, y, z] = cameraPoint(state, [0, 0, zMm]);
    return projectPoint(state.camera, x, y, z);
  };
  return [onAxis(0), onAxis(state.heightMm)];
}

function sideOf({ expectedPx: [x, y] }: LocatedPoint, [[ax, ay], [bx, by]]: readonly [ImagePoint, ImagePoint]): 1 | -1 {
  return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0 ? 1 : -1;
}

function outwards({ point, expectedPx: [x, y] }: LocatedPoint): number {
  return (point.xPx - x) * point.normalX + (point.yPx - y) * point.normalY;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
