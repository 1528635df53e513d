import type { View } from '../../vision/container/project-model-outline.ts';
import type { Camera } from '../../vision/geometry/camera-ray.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { Vector3 } from '../../vision/geometry/linear3.ts';
import type { Polyline } from '../../vision/geometry/solid-of-revolution.ts';
import type { OutlinePoint } from '../../vision/sighting.ts';

/**
 * The outline of a solid of revolution found by asking, pixel by pixel, whether the sight line meets the solid: nothing of the
 * grazing rays that the model is fitted with, so that an error there would show. In order round the outline, about every
 * `spacingPx`; to a thousandth of a pixel.
 */
export function rayTracedOutline(solid: Polyline, view: View, spacingPx: number): Omit<OutlinePoint, 'sdPx'>[] {
  const meets = sightLines(solid, view);
  const rings = Array.from({ length: solid.count }, (_, v) =>
    Array.from({ length: 24 }, (_, k): ImagePoint => {
      const angle = (k / 12) * Math.PI;
      const r = solid.radiusMm[v];
      return imageOf(view, [r * Math.cos(angle), r * Math.sin(angle), solid.zMm[v]]);
    }),
  ).flat();
  const [xs, ys] = [rings.map(([x]) => x), rings.map(([, y]) => y)];
  const step = (Math.max(...xs) - Math.min(...xs) + Math.max(...ys) - Math.min(...ys)) / CELLS;
  const [left, top] = [Math.min(...xs) - 3.3 * step, Math.min(...ys) - 3.3 * step];
  const columns = Math.ceil((Math.max(...xs) - left) / step + 4);
  const rows = Math.ceil((Math.max(...ys) - top) / step + 4);
  const at = (column: number, row: number): ImagePoint => [left + column * step, top + row * step];
  const inside = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) inside[row * columns + column] = meets(at(column, row)) ? 1 : 0;
  return spaced(walkRound(inside, columns, at, meets), spacingPx);
}

/** Cells of the first, coarse look along width and height together. */
const CELLS = 240;

/** Whether the sight line through an image point meets the solid. */
function sightLines({ count, zMm, radiusMm }: Polyline, view: View): (at: ImagePoint) => boolean {
  const fromCamera = (v: Vector3) => transposedTimes(view.containerRotation, transposedTimes(view.rotation, v));
  const [tx, ty, tz] = view.translationMm;
  const [bx, by, bz] = transposedTimes(view.containerRotation, view.baseCentreMm);
  const origin = fromCamera([-tx, -ty, -tz]);
  const [ox, oy, oz] = [origin[0] - bx, origin[1] - by, origin[2] - bz];
  return (at) => {
    const [dx, dy, dz] = fromCamera(directionOf(view.camera, at));
    for (let v = 0; v + 1 < count; v++) {
      // within a frustum: x² + y² − r(z)² is a quadratic in t, and t runs between its two end planes
      const slope = (radiusMm[v + 1] - radiusMm[v]) / (zMm[v + 1] - zMm[v]);
      const radius = radiusMm[v] + slope * (oz - zMm[v]);
      const a = dx * dx + dy * dy - (slope * dz) ** 2;
      const b = ox * dx + oy * dy - radius * slope * dz;
      const c = ox * ox + oy * oy - radius * radius;
      const [t0, t1] = [(zMm[v] - oz) / dz, (zMm[v + 1] - oz) / dz].sort((p, q) => p - q);
      const lowest = a > 0 ? Math.min(Math.max(-b / a, t0), t1) : t0;
      if ([t0, t1, lowest].some((t) => t > 0 && (a * t + 2 * b) * t + c <= 0)) return true;
    }
    return false;
  };
}

/** Follows the border between cells inside and outside, and sharpens each crossing by halving. */
function walkRound(
  inside: Uint8Array,
  columns: number,
  at: (column: number, row: number) => ImagePoint,
  meets: (at: ImagePoint) => boolean,
): ImagePoint[] {
  const is = (column: number, row: number) => inside[row * columns + column] === 1;
  const first = inside.indexOf(1);
  const start = { column: first % columns, row: Math.floor(first / columns) };
  const points: ImagePoint[] = [];
  // a cell inside and the side it looks out at: 0 up, 1 right, 2 down, 3 left
  let [column, row, side] = [start.column, start.row, 0];
  do {
    const [dx, dy] = SIDES[side];
    let [near, far] = [at(column, row), at(column + dx, row + dy)];
    for (let k = 0; k < 24; k++) {
      const middle: ImagePoint = [(near[0] + far[0]) / 2, (near[1] + far[1]) / 2];
      if (meets(middle)) near = middle;
      else far = middle;
    }
    points.push([(near[0] + far[0]) / 2, (near[1] + far[1]) / 2]);
    const [nx, ny] = SIDES[(side + 1) % 4];
    if (!is(column + nx, row + ny)) side = (side + 1) % 4;
    else {
      [column, row] = [column + nx, row + ny];
      if (is(column + dx, row + dy)) {
        [column, row] = [column + dx, row + dy];
        side = (side + 3) % 4;
      }
    }
  } while (!(column === start.column && row === start.row && side === 0));
  return points;
}

const SIDES = [
  [0, -1],
  [1, 0],
  [0, 1],
  [-1, 0],
] as const;

/** Points about `spacing` apart along a closed line, with the normal to the left of the way: clockwise, that is outwards. */
function spaced(line: readonly ImagePoint[], spacing: number): Omit<OutlinePoint, 'sdPx'>[] {
  const points: Omit<OutlinePoint, 'sdPx'>[] = [];
  let since = spacing;
  line.forEach(([x, y], i) => {
    const before = line[(i + line.length - 2) % line.length];
    const after = line[(i + 2) % line.length];
    const previous = line[(i + line.length - 1) % line.length];
    since += Math.hypot(x - previous[0], y - previous[1]);
    if (since < spacing) return;
    since = 0;
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const length = Math.hypot(dx, dy);
    points.push({ xPx: x, yPx: y, normalX: dy / length, normalY: -dx / length });
  });
  return points;
}

function imageOf({ camera, rotation, translationMm, containerRotation, baseCentreMm }: View, p: Vector3): ImagePoint {
  const inCard = times(containerRotation, p).map((value, k) => value + baseCentreMm[k]) as unknown as Vector3;
  const [x, y, z] = times(rotation, inCard).map((value, k) => value + translationMm[k]);
  const bend = 1 + camera.k1 * ((x / z) ** 2 + (y / z) ** 2);
  return [camera.centreXPx + (camera.focalPx * bend * x) / z, camera.centreYPx + (camera.focalPx * bend * y) / z];
}

/** The sight line of a pixel, camera frame: the radial distortion undone by repeated division. */
function directionOf({ focalPx, centreXPx, centreYPx, k1 }: Camera, [px, py]: ImagePoint): Vector3 {
  const [u, v] = [(px - centreXPx) / focalPx, (py - centreYPx) / focalPx];
  let [x, y] = [u, v];
  for (let k = 0; k < 12; k++) {
    const bend = 1 + k1 * (x * x + y * y);
    [x, y] = [u / bend, v / bend];
  }
  return [x, y, 1];
}

function times(m: readonly number[], [x, y, z]: Vector3): Vector3 {
  return [m[0] * x + m[1] * y + m[2] * z, m[3] * x + m[4] * y + m[5] * z, m[6] * x + m[7] * y + m[8] * z];
}

function transposedTimes(m: readonly number[], [x, y, z]: Vector3): Vector3 {
  return [m[0] * x + m[3] * y + m[6] * z, m[1] * x + m[4] * y + m[7] * z, m[2] * x + m[5] * y + m[8] * z];
}
