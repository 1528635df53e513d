import { type Estimate, estimate } from '../estimate.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { type Problem, type ProblemCode, problem } from '../measurement.ts';
import {
  imageFromTable,
  propagate,
  type TablePoint,
  type TableView,
  tableFromImage,
  tableMmPerPx,
  type UncertainTableView,
} from '../reference/table-view.ts';
import type { ColourModel } from './colour-model.ts';
import { believedContrast, edgeSd, edgeWarnings, rimSd, shadowSd } from './edge-definition.ts';
import { sdOfMean } from './edge-noise.ts';
import { findWork } from './find-work.ts';
import {
  fitSideLine,
  type RoughRectangle,
  roughRectangle,
  type SideLine,
  sideNormals,
  sidePoints,
} from './rectangle-edges.ts';
import { traceEdge } from './trace-edge.ts';
import { PLACEMENT_SD_PX, type Thickness, type WorkPhoto, type WorkRefusal } from './work-photo.ts';

/** A flat rectangular piece, by how its sides run in the photo. */
export interface MeasuredRectangle {
  /** Mean distance between the mean lines of the loops on its two sides, seen straight from above. */
  readonly acrossMm: Estimate;
  readonly upMm: Estimate;
  /** Correlation of the two errors: one scale, one edge. */
  readonly correlation: number;
  /** How far its corners are from square, rad. */
  readonly skewRad: number;
  /** True when no side runs clearly across the photo. */
  readonly liesDiagonally: boolean;
  /** The four sides as a closed outline in the photo. */
  readonly edgePx: readonly ImagePoint[];
}

export type RectangleResult =
  | { readonly outcome: 'measured'; readonly rectangle: MeasuredRectangle; readonly warnings: readonly Problem[] }
  | WorkRefusal;

export interface RectangleInput extends WorkPhoto {
  /** Thickness of everything that lies on the table there: one layer, or two of a tube. */
  readonly thickness: Thickness;
  /** Share of each side, about its middle, that is straight: less where corners are round. */
  readonly straightShare: number;
}

/** Distance between edge samples, mm: a few per stitch. */
const SPACING_MM = 0.4;
const BAND_MM = 6;
/** An edge farther than this share of the band from its middle may lie beyond it: the band is moved there. */
const FAR_SHARE = 0.4;
const MOST_TRACES = 4;
/** Beyond these it is no rectangle: sides out of parallel or square, points off the sides, scatter over the size. */
const MOST_SLOPE = 0.18;
const MOST_OUTLIERS = 0.35;
const MOST_SCATTER = 0.06;
/** Sides clearly run across and up when one keeps this far below 45° in the photo and the other above. */
const CLEAR_OF_DIAGONAL_RAD = 0.1;

type Sides<T> = readonly [T, T, T, T];

/** Sides of a flat rectangular piece on the table beside the card. */
export function measureRectangle(input: RectangleInput): RectangleResult {
  const { thickness } = input;
  const refused = (code: ProblemCode): RectangleResult => ({
    outcome: 'refused',
    reason: problem(code),
    found: { cornersPx: input.reference.cornersPx, edgePx: input.edgePx ?? null },
  });
  const uncertain = input.reference.view;
  if (!uncertain) return refused('card-too-oblique');
  const { view } = uncertain;
  const traced = input.edgePx ? placedSides(input, view, input.edgePx) : tracedSides(input, view);
  if (typeof traced === 'string') return refused(traced);
  const lines = fitSides(view, traced.sidesPx, traced.rectangle, thickness.valueMm);
  if (!lines || !looksRectangular(lines, traced.rectangle)) return refused('not-a-rectangle');
  return {
    outcome: 'measured',
    rectangle: measured(input, uncertain, traced, lines),
    warnings: edgeWarnings(traced),
  };
}

interface TracedSides {
  readonly rectangle: RoughRectangle;
  readonly sidesPx: Sides<readonly ImagePoint[]>;
  /** The same when every dark rim counts as yarn, or as shadow. */
  readonly extremesPx: readonly Sides<readonly ImagePoint[]>[];
  /** Of the four sides together; null for an edge placed by hand. */
  readonly contrast: number | null;
  readonly isLikeShadow: boolean;
}

function tracedSides(input: RectangleInput, view: TableView): TracedSides | ProblemCode {
  const { photo, reference, thickness } = input;
  const found = findWork(photo, reference, input.insidePx ?? null);
  if (!found) return 'no-work';
  if (found.cutByFrame) return 'work-cut-off';
  const heightMm = thickness.valueMm / 2;
  const border = found.borderPx.map((point) => tableFromImage(view, point, heightMm)).filter((point) => point !== null);
  let rectangle = roughRectangle(border);
  if (!rectangle) return 'no-work';
  const { likely, extremes } = found.colours;
  let traced = traceSides(input, view, rectangle, likely);
  for (let round = 1; round < MOST_TRACES && traced.farthestMm > FAR_SHARE * reachMm(rectangle); round++) {
    const lines = fitSides(view, traced.sidesPx, rectangle, thickness.valueMm);
    if (!lines) return 'not-a-rectangle';
    rectangle = movedOnto(rectangle, lines);
    traced = traceSides(input, view, rectangle, likely);
  }
  const last = rectangle;
  return {
    rectangle,
    sidesPx: traced.sidesPx,
    extremesPx: extremes.map((colours) => traceSides(input, view, last, colours).sidesPx),
    contrast: believedContrast(traced.contrast, found.standsOut),
    isLikeShadow: found.isLikeShadow,
  };
}

function reachMm({ alongMm, acrossMm }: RoughRectangle): number {
  return Math.max(BAND_MM, 0.1 * Math.min(alongMm, acrossMm));
}

interface SidesInBand {
  readonly sidesPx: Sides<readonly ImagePoint[]>;
  readonly contrast: number;
  /** Mean offset from the band's middle of the side that lies farthest from it. */
  readonly farthestMm: number;
}

function traceSides(
  { photo, thickness, straightShare }: RectangleInput,
  view: TableView,
  rectangle: RoughRectangle,
  colours: ColourModel,
): SidesInBand {
  const heightMm = thickness.valueMm / 2;
  const normals = sideNormals(rectangle);
  const sides = fourSides((k) => {
    const points = sidePoints(rectangle, k, straightShare, SPACING_MM);
    const band = { points, normals: points.map(() => normals[k]), closed: false, reachMm: reachMm(rectangle) };
    const edge = traceEdge(photo, view, heightMm, colours, band);
    const edgePx = points.map(([x, y], i) => {
      const offset = edge.offsetsMm[i];
      return imageFromTable(view, [x + offset * normals[k][0], y + offset * normals[k][1]], heightMm);
    });
    const meanMm = edge.offsetsMm.reduce((sum, offset) => sum + offset, 0) / points.length;
    return { edgePx, contrast: edge.contrast, offsetMm: Math.abs(meanMm) };
  });
  return {
    sidesPx: fourSides((k) => sides[k].edgePx),
    contrast: sides.reduce((sum, { contrast }) => sum + contrast / 4, 0),
    farthestMm: Math.max(...sides.map(({ offsetMm }) => offsetMm)),
  };
}

/** The rectangle put onto lines that were fitted in its frame. */
function movedOnto(rectangle: RoughRectangle, lines: Sides<SideLine>): RoughRectangle {
  const [[nx, ny], [mx, my]] = sideNormals(rectangle);
  const [u, v] = [(lines[0].offsetMm - lines[2].offsetMm) / 2, (lines[1].offsetMm - lines[3].offsetMm) / 2];
  return {
    middle: [rectangle.middle[0] + u * nx + v * mx, rectangle.middle[1] + u * ny + v * my],
    turnRad: rectangle.turnRad - lines.reduce((sum, { slope }) => sum + slope / 4, 0),
    alongMm: lines[0].offsetMm + lines[2].offsetMm,
    acrossMm: lines[1].offsetMm + lines[3].offsetMm,
  };
}

/** Points along a polygon placed by hand, shared out to the nearest sides. */
function placedSides(input: RectangleInput, view: TableView, edgePx: readonly ImagePoint[]): TracedSides | ProblemCode {
  const heightMm = input.thickness.valueMm / 2;
  const dense = edgePx.flatMap(([ax, ay], i) => {
    const [bx, by] = edgePx[(i + 1) % edgePx.length];
    return Array.from({ length: 40 }, (_, j): ImagePoint => [ax + ((bx - ax) * j) / 40, ay + ((by - ay) * j) / 40]);
  });
  const onTable = dense.map((point) => tableFromImage(view, point, heightMm));
  const rectangle = roughRectangle(onTable.filter((point) => point !== null));
  if (!rectangle) return 'not-a-rectangle';
  const sidesPx = fourSides((k) => {
    const [nx, ny] = sideNormals(rectangle)[k];
    const away = (k % 2 === 0 ? rectangle.alongMm : rectangle.acrossMm) / 2;
    const half = ((k % 2 === 0 ? rectangle.acrossMm : rectangle.alongMm) * input.straightShare) / 2;
    return dense.filter((_, i) => {
      const point = onTable[i];
      if (!point) return false;
      const [dx, dy] = [point[0] - rectangle.middle[0], point[1] - rectangle.middle[1]];
      return dx * nx + dy * ny > 0.6 * away && Math.abs(-dx * ny + dy * nx) < half;
    });
  });
  if (sidesPx.some((side) => side.length < 8)) return 'not-a-rectangle';
  return { rectangle, sidesPx, extremesPx: [], contrast: null, isLikeShadow: false };
}

function fitSides(
  view: TableView,
  sidesPx: Sides<readonly ImagePoint[]>,
  rectangle: RoughRectangle,
  thicknessMm: number,
  weights?: Sides<Float64Array>,
): Sides<SideLine> | null {
  const seen = sidesPx.map((side) => side.map((point) => tableFromImage(view, point, thicknessMm / 2)));
  if (seen.some((side) => side.some((point) => point === null))) return null;
  return fourSides((k) => fitSideLine(view, seen[k] as TablePoint[], rectangle, k, thicknessMm, weights?.[k]));
}

function looksRectangular(lines: Sides<SideLine>, rectangle: RoughRectangle): boolean {
  const size = Math.min(rectangle.alongMm, rectangle.acrossMm);
  return lines.every(({ slope, residuals, weights }) => {
    const used = Array.from(residuals).filter((_, i) => weights[i] > 0);
    const scatter = Math.sqrt(used.reduce((sum, r) => sum + r * r, 0) / used.length);
    return (
      Math.abs(slope) < MOST_SLOPE &&
      used.length > (1 - MOST_OUTLIERS) * residuals.length &&
      scatter < MOST_SCATTER * size
    );
  });
}

/** Distance between opposite sides at their middles, at right angles to their mean direction: along, across. */
function distances(lines: Sides<SideLine>): [number, number] {
  return [0, 1].map((k) => {
    const [a, b] = [lines[k], lines[k + 2]];
    return (a.offsetMm + b.offsetMm) * Math.cos((a.slope + b.slope) / 2);
  }) as [number, number];
}

function measured(
  input: RectangleInput,
  uncertain: UncertainTableView,
  { rectangle, sidesPx, extremesPx, contrast, isLikeShadow }: TracedSides,
  lines: Sides<SideLine>,
): MeasuredRectangle {
  const { view } = uncertain;
  const { thickness } = input;
  const weights = fourSides((k) => lines[k].weights);
  const { values, covariance } = propagate(uncertain, [thickness.sdMm], (at, [thicker]) => {
    const moved = fitSides(at, sidesPx, rectangle, thickness.valueMm + thicker, weights);
    return distances(moved ?? lines);
  });
  const mmPerPx = tableMmPerPx(view, rectangle.middle);
  const extremes = extremesPx
    .map((sides) => fitSides(view, sides, rectangle, thickness.valueMm))
    .filter((sides) => sides !== null)
    .map(distances);
  const commonSdMm = 2 * edgeSd(thickness.valueMm, mmPerPx, contrast);
  const sds = [0, 1].map((k) => {
    const loops = Math.hypot(...[k, k + 2].map((side) => sdOfMean(lines[side].residuals, lines[side].weights)));
    const placed = input.edgePx ? (input.placementSdPx ?? PLACEMENT_SD_PX) * mmPerPx : 0;
    return Math.hypot(
      Math.sqrt(covariance[k][k]),
      commonSdMm,
      loops,
      rimSd([values, ...extremes].map((sizes) => sizes[k])),
      shadowSd(thickness.valueMm, isLikeShadow),
      placed,
    );
  });
  const correlation = (covariance[0][1] + commonSdMm ** 2) / (sds[0] * sds[1]);
  const [along, across] = [0, 1].map((k) => estimate(values[k], sds[k]));
  const rises = risesInPhoto(view, rectangle);
  const alongRunsAcross = rises[0] < rises[1];
  return {
    acrossMm: alongRunsAcross ? along : across,
    upMm: alongRunsAcross ? across : along,
    correlation,
    skewRad: Math.abs((lines[0].slope - lines[2].slope) / 2 - (lines[1].slope - lines[3].slope) / 2),
    liesDiagonally:
      Math.min(...rises) > Math.PI / 4 - CLEAR_OF_DIAGONAL_RAD ||
      Math.max(...rises) < Math.PI / 4 + CLEAR_OF_DIAGONAL_RAD,
    edgePx: cornersOf(rectangle, lines).map((point) => imageFromTable(view, point, thickness.valueMm / 2)),
  };
}

/**
 * Angles in the photo between the rectangle's two directions (along, across) and the horizontal, 0 to π/2. From a low
 * eye both sides of a piece that lies diagonally may run more across than up.
 */
function risesInPhoto(view: TableView, { middle, turnRad }: RoughRectangle): [number, number] {
  const at = imageFromTable(view, middle, 0);
  return [0, Math.PI / 2].map((further) => {
    const [c, s] = [Math.cos(turnRad + further), Math.sin(turnRad + further)];
    const on = imageFromTable(view, [middle[0] + c, middle[1] + s], 0);
    return Math.atan2(Math.abs(on[1] - at[1]), Math.abs(on[0] - at[0]));
  }) as [number, number];
}

/** Where neighbouring side lines cross. */
function cornersOf(rectangle: RoughRectangle, lines: Sides<SideLine>): TablePoint[] {
  const normals = sideNormals(rectangle);
  return [0, 1, 2, 3].map((k): TablePoint => {
    const next = (k + 1) % 4;
    // Frame of side k: u along its normal, v along the next side's normal.
    const a = lines[k];
    const b = lines[next];
    // u = a.offset + a.slope · v and v = b.offset − b.slope · u
    const u = (a.offsetMm + a.slope * b.offsetMm) / (1 + a.slope * b.slope);
    const v = b.offsetMm - b.slope * u;
    return [
      rectangle.middle[0] + u * normals[k][0] + v * normals[next][0],
      rectangle.middle[1] + u * normals[k][1] + v * normals[next][1],
    ];
  });
}

function fourSides<T>(make: (k: number) => T): Sides<T> {
  return [make(0), make(1), make(2), make(3)];
}
