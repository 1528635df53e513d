import { describe, expect, it } from 'vitest';
import type { ContainerFit } from '../../../vision/container/fit-container.ts';
import { type WallPoint, withSideDoubt } from '../../../vision/outline/both-sides.ts';

const HEIGHT_MM = 100;
const LEFT = 400;
const RIGHT = 600;
const SD_PX = 0.4;

/** A camera far away that sees an upright container of 100 mm from the side, 5 px per mm. */
const fit = {
  state: {
    heightMm: HEIGHT_MM,
    baseCentreMm: [0, 0, 0],
    rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    containerRotation: [1, 0, 0, 0, 0, -1, 0, 1, 0],
    translationMm: [0, 50, 1000],
    camera: { focalPx: 5000, centreXPx: 500, centreYPx: 500, k1: 0 },
  },
} as unknown as ContainerFit;

/** Edges up the right wall and down the left one, each so many px outside of where the fit expects it. */
function walls(right: (zMm: number) => number, left: (zMm: number) => number): WallPoint[] {
  return Array.from({ length: 91 }, (_, i) => 5 + i).flatMap((zMm) => {
    const yPx = 750 - 5 * zMm;
    const point = (xPx: number, normalX: number, offsetPx: number): WallPoint => ({
      point: { xPx: xPx + normalX * offsetPx, yPx, normalX, normalY: 0, sdPx: SD_PX },
      expectedPx: [xPx, yPx],
      zMm,
    });
    return [point(RIGHT, 1, right(zMm)), point(LEFT, -1, left(zMm))];
  });
}

const sdAt = (edges: readonly WallPoint[], zMm: number) => edges.filter((e) => e.zMm === zMm).map((e) => e.point.sdPx);

describe('edges on both sides of the axis', () => {
  it('keep their sd where they agree', () => {
    const edges = withSideDoubt(
      walls(
        () => 2,
        () => 2,
      ),
      fit,
    );
    expect(edges.every((edge) => edge.point.sdPx === SD_PX)).toBe(true);
  });

  it('lose trust on both sides, and only there, where a shadow moves one of them', () => {
    const edges = withSideDoubt(
      walls(
        (zMm) => (zMm >= 40 && zMm <= 60 ? 8 : 0),
        () => 0,
      ),
      fit,
    );
    for (const sd of sdAt(edges, 50)) expect(sd).toBeGreaterThan(6);
    for (const sd of [...sdAt(edges, 20), ...sdAt(edges, 80)]) expect(sd).toBe(SD_PX);
  });

  it('keep their sd when the axis alone is off', () => {
    const edges = withSideDoubt(
      walls(
        () => 3,
        () => -3,
      ),
      fit,
    );
    expect(edges.every((edge) => edge.point.sdPx === SD_PX)).toBe(true);
  });
});
