import type { CornersPx, ImagePoint } from './frames.ts';

/** Signed area, px²: positive when clockwise as seen (y down). */
export function signedArea(polygon: readonly ImagePoint[]): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i];
    const [x1, y1] = polygon[(i + 1) % polygon.length];
    sum += x0 * y1 - x1 * y0;
  }
  return sum / 2;
}

/** Even-odd rule. */
export function contains(polygon: readonly ImagePoint[], [x, y]: ImagePoint): boolean {
  let inside = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const [xi, yi] = polygon[i];
    const [xj, yj] = polygon[j];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Share of a quad's area that lies within a polygon, over a grid of 16 × 16 points on the quad. */
export function shareWithin([a, b, c, d]: CornersPx, polygon: readonly ImagePoint[]): number {
  const steps = 16;
  let inside = 0;
  for (let i = 0; i < steps; i++) {
    for (let j = 0; j < steps; j++) {
      const u = (i + 0.5) / steps;
      const v = (j + 0.5) / steps;
      const blend = (k: 0 | 1) => (1 - v) * ((1 - u) * a[k] + u * b[k]) + v * ((1 - u) * d[k] + u * c[k]);
      if (contains(polygon, [blend(0), blend(1)])) inside++;
    }
  }
  return inside / (steps * steps);
}

/** Signed distance to the polygon's border, px: negative inside. */
export function signedDistance(polygon: readonly ImagePoint[], at: ImagePoint): number {
  let nearest = Infinity;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    nearest = Math.min(nearest, distanceToSegment(polygon[j], polygon[i], at));
  }
  return contains(polygon, at) ? -nearest : nearest;
}

function distanceToSegment([ax, ay]: ImagePoint, [bx, by]: ImagePoint, [x, y]: ImagePoint): number {
  const dx = bx - ax;
  const dy = by - ay;
  const length2 = dx * dx + dy * dy;
  const t = length2 > 0 ? Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / length2, 0), 1) : 0;
  return Math.hypot(x - ax - t * dx, y - ay - t * dy);
}

/** A 0/1 raster with the polygon filled (even-odd, pixel centres). */
export function fillPolygon(polygon: readonly ImagePoint[], columns: number, rows: number): Uint8Array {
  const raster = new Uint8Array(columns * rows);
  const crossings: number[] = [];
  for (let row = 0; row < rows; row++) {
    crossings.length = 0;
    for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
      const [xi, yi] = polygon[i];
      const [xj, yj] = polygon[j];
      if (yi > row !== yj > row) crossings.push(((xj - xi) * (row - yi)) / (yj - yi) + xi);
    }
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const from = Math.max(Math.ceil(crossings[k]), 0);
      const to = Math.min(Math.floor(crossings[k + 1]), columns - 1);
      if (to >= from) raster.fill(1, row * columns + from, row * columns + to + 1);
    }
  }
  return raster;
}

/** Points about `spacing` apart along a polyline, ends included; closed polylines need their first point repeated. */
export function resample(line: readonly ImagePoint[], spacing: number): ImagePoint[] {
  const lengths = [0];
  for (let i = 1; i < line.length; i++) {
    lengths.push(lengths[i - 1] + Math.hypot(line[i][0] - line[i - 1][0], line[i][1] - line[i - 1][1]));
  }
  const total = lengths[lengths.length - 1];
  const steps = Math.max(Math.round(total / spacing), 1);
  const points: ImagePoint[] = [];
  let i = 1;
  for (let k = 0; k <= steps; k++) {
    const at = (total * k) / steps;
    while (i < line.length - 1 && lengths[i] < at) i++;
    const span = lengths[i] - lengths[i - 1];
    const t = span > 0 ? (at - lengths[i - 1]) / span : 0;
    points.push([
      line[i - 1][0] + t * (line[i][0] - line[i - 1][0]),
      line[i - 1][1] + t * (line[i][1] - line[i - 1][1]),
    ]);
  }
  return points;
}

/** Longer side of the box round the polygon. */
export function longSideOf(polygon: readonly ImagePoint[]): number {
  const xs = polygon.map(([x]) => x);
  const ys = polygon.map(([, y]) => y);
  return Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
}
