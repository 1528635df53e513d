import type { TablePoint, TableView } from '../reference/table-view.ts';
import { median } from './fit-round-edge.ts';
import { planPoint } from './silhouette.ts';

/** A rectangle on a plane parallel to the table: middle, direction of its first sides, extents. */
export interface RoughRectangle {
  readonly middle: TablePoint;
  readonly turnRad: number;
  /** Along the turn direction and at right angles to it. */
  readonly alongMm: number;
  readonly acrossMm: number;
}

/** Share of border points beyond each side that are left out: strands, loops. */
const STRAY_SHARE = 0.02;

/** Smallest rectangle around border points, by trying every direction. Null for fewer than a dozen points. */
export function roughRectangle(points: readonly TablePoint[]): RoughRectangle | null {
  if (points.length < 12) return null;
  let best: RoughRectangle | null = null;
  for (let degrees = 0; degrees < 90; degrees++) {
    const turnRad = (degrees * Math.PI) / 180;
    const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
    const [u0, u1] = extent(points.map(([x, y]) => c * x + s * y));
    const [v0, v1] = extent(points.map(([x, y]) => -s * x + c * y));
    const [u, v] = [(u0 + u1) / 2, (v0 + v1) / 2];
    if (best && (u1 - u0) * (v1 - v0) >= best.alongMm * best.acrossMm) continue;
    best = { middle: [c * u - s * v, s * u + c * v], turnRad, alongMm: u1 - u0, acrossMm: v1 - v0 };
  }
  return best;
}

function extent(values: number[]): [number, number] {
  values.sort((a, b) => a - b);
  const skip = Math.floor(STRAY_SHARE * values.length);
  return [values[skip], values[values.length - 1 - skip]];
}

/** Unit normals out of the four sides: +along, +across, −along, −across. */
export function sideNormals({ turnRad }: RoughRectangle): readonly TablePoint[] {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  return [
    [c, s],
    [-s, c],
    [-c, -s],
    [s, -c],
  ];
}

/** Points along the middle part of side k, at `spacingMm`. */
export function sidePoints(rectangle: RoughRectangle, k: number, middleShare: number, spacingMm: number): TablePoint[] {
  const [nx, ny] = sideNormals(rectangle)[k];
  const away = (k % 2 === 0 ? rectangle.alongMm : rectangle.acrossMm) / 2;
  const length = (k % 2 === 0 ? rectangle.acrossMm : rectangle.alongMm) * middleShare;
  const count = Math.max(8, Math.round(length / spacingMm));
  return Array.from({ length: count }, (_, i): TablePoint => {
    const t = ((i + 0.5) / count - 0.5) * length;
    return [rectangle.middle[0] + away * nx - t * ny, rectangle.middle[1] + away * ny + t * nx];
  });
}

/** A side as a line in its rectangle's frame: offset along the normal at the middle, slope, what is left. */
export interface SideLine {
  readonly offsetMm: number;
  readonly slope: number;
  readonly residuals: Float64Array;
  readonly weights: Float64Array;
}

/** Points farther from a side's line than this many robust standard deviations belong to a strand of yarn. */
const OUTLIER = 3.2;

/**
 * Straight line through the plan points of one side.
 * @param seen  points of the seen outline on the plane half a thickness above the table
 * @param weights  keep these instead of looking for outliers
 */
export function fitSideLine(
  view: TableView,
  seen: readonly TablePoint[],
  rectangle: RoughRectangle,
  k: number,
  thicknessMm: number,
  weights?: Float64Array,
): SideLine {
  const normal = sideNormals(rectangle)[k];
  const [nx, ny] = normal;
  const offsets = seen.map((point) => {
    const [x, y] = planPoint(view, point, normal, thicknessMm);
    return (x - rectangle.middle[0]) * nx + (y - rectangle.middle[1]) * ny;
  });
  const places = seen.map(([x, y]) => -(x - rectangle.middle[0]) * ny + (y - rectangle.middle[1]) * nx);
  let used = weights ?? new Float64Array(seen.length).fill(1);
  let line = weightedLine(places, offsets, used);
  for (let round = 0; !weights && round < 4; round++) {
    const sd = 1.4826 * median(Array.from(line.residuals, Math.abs));
    used = Float64Array.from(line.residuals, (r) => (Math.abs(r) <= OUTLIER * sd + 1e-9 ? 1 : 0));
    line = weightedLine(places, offsets, used);
  }
  return { ...line, weights: used };
}

function weightedLine(
  places: readonly number[],
  offsets: readonly number[],
  weights: Float64Array,
): Omit<SideLine, 'weights'> {
  let [n, st, sy, stt, sty] = [0, 0, 0, 0, 0];
  for (let i = 0; i < places.length; i++) {
    const w = weights[i];
    n += w;
    st += w * places[i];
    sy += w * offsets[i];
    stt += w * places[i] * places[i];
    sty += w * places[i] * offsets[i];
  }
  const slope = (n * sty - st * sy) / (n * stt - st * st);
  const offsetMm = (sy - slope * st) / n;
  return { offsetMm, slope, residuals: Float64Array.from(offsets, (y, i) => y - offsetMm - slope * places[i]) };
}
