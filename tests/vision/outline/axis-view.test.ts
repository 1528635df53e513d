import { describe, expect, it } from 'vitest';
import { unit } from '../../../vision/geometry/linear3.ts';
import { axisView, imageFromView, viewFromImage } from '../../../vision/outline/axis-view.ts';
import { drawnScene } from './drawn-scene.ts';

const camera = { focalPx: 1500, centreXPx: 999.5, centreYPx: 749.5, k1: 0 };
const frame = [
  [0, 0],
  [1999, 0],
  [0, 1499],
  [1999, 1499],
] as const;

describe('axisView', () => {
  const view = axisView(camera, unit([0.1, -0.9, -0.4]), frame, 400);
  if (!view) throw new Error('no view');

  it('leads from the image to the view and back to the same place', () => {
    for (const at of [
      [300, 200],
      [1000, 750],
      [1700, 1400],
    ] as const) {
      const [column, row] = viewFromImage(view, at) ?? [Number.NaN, Number.NaN];
      const back = imageFromView(view, column, row);
      expect(back?.[0]).toBeCloseTo(at[0], 6);
      expect(back?.[1]).toBeCloseTo(at[1], 6);
    }
  });

  it('has the longer side it was asked for', () => {
    expect(Math.max(view.columns, view.rows)).toBe(400);
  });

  it('keeps right angles on the sphere of viewing directions', () => {
    const direction = (column: number, row: number) => {
      const [x, y] = imageFromView(view, column, row) ?? [Number.NaN, Number.NaN];
      return unit([(x - camera.centreXPx) / camera.focalPx, (y - camera.centreYPx) / camera.focalPx, 1]);
    };
    const [a, b, c] = [direction(150, 120), direction(150.01, 120), direction(150, 120.01)];
    const across = b.map((value, k) => value - a[k]);
    const along = c.map((value, k) => value - a[k]);
    const dot = across.reduce((sum, value, k) => sum + value * along[k], 0);
    expect(dot / (Math.hypot(...across) * Math.hypot(...along))).toBeCloseTo(0, 4);
    expect(Math.hypot(...across) / Math.hypot(...along)).toBeCloseTo(1, 4);
  });

  it('does not exist for an axis that points at the camera', () => {
    expect(axisView(camera, [0, 0, -1], frame, 400)).toBeNull();
  });
});

describe('the outline of a solid of revolution in the view about its axis', () => {
  it('is mirror-symmetric about the column of the axis, though it is not in the photo', () => {
    const scene = drawnScene();
    const { photo, axisPx, outlinePx, focalPx } = scene;
    const pinhole = { focalPx, centreXPx: photo.widthPx / 2 - 0.5, centreYPx: photo.heightPx / 2 - 0.5, k1: 0 };
    const view = axisView(pinhole, cameraAxis(), outlinePx, 500);
    if (!view) throw new Error('no view');
    const place = (at: readonly [number, number]) => viewFromImage(view, at) ?? [Number.NaN, Number.NaN];
    const [column] = place(axisPx[0]);
    expect(place(axisPx[1])[0]).toBeCloseTo(column, 6);
    const outline = outlinePx.map(place);
    for (const [x, y] of outline) {
      const mirrored = outline.reduce(
        (nearest, [mx, my]) => Math.min(nearest, Math.hypot(2 * column - x - mx, y - my)),
        Infinity,
      );
      expect(mirrored).toBeLessThan(LONGEST_GAP);
    }
  });
});

/** The straight sides have only their ends as points; elsewhere hull points lie half a pixel apart. */
const LONGEST_GAP = 2;

/** The table's normal in the camera frame of `drawnScene`. */
function cameraAxis() {
  const forward = unit([-65, 385, -185]);
  const right = unit([forward[1], -forward[0], 0]);
  const down = unit([
    forward[1] * right[2] - forward[2] * right[1],
    forward[2] * right[0] - forward[0] * right[2],
    forward[0] * right[1] - forward[1] * right[0],
  ]);
  return unit([right[2], down[2], forward[2]]);
}
