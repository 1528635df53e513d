import { type Estimate, estimate } from '../estimate.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { type Problem, type ProblemCode, problem } from '../measurement.ts';
import type { Photo } from '../picture/photo.ts';
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
import { fitHarmonics, fitRoundEdge, type RoundEdge, roughCircle, roundEdgePoints } from './fit-round-edge.ts';
import { planPoint } from './silhouette.ts';
import { traceEdge } from './trace-edge.ts';
import { fabricThickness, PLACEMENT_SD_PX, type Thickness, type WorkPhoto, type WorkRefusal } from './work-photo.ts';

/** A crocheted disc lying flat. */
export interface MeasuredDisc {
  /**
   * Mean over all directions of the width across, seen straight from above: between the mean line of the outer loops
   * (half-way between their crowns and the valleys between them) on both sides.
   */
  readonly meanDiameterMm: Estimate;
  /**
   * Longest minus shortest width across over the mean one, of the oval that fits the outline best; the step where rounds
   * begin and uneven loops are part of it.
   */
  readonly outOfRoundness: Estimate;
  /** Height of the loops' crowns over the mean line: a ruler laid over the crowns reads twice this more. */
  readonly scallopMm: number;
  readonly thickness: Thickness;
  /** The smooth outline in the photo, closed. */
  readonly edgePx: readonly ImagePoint[];
}

export type DiscResult =
  | { readonly outcome: 'measured'; readonly disc: MeasuredDisc; readonly warnings: readonly Problem[] }
  | WorkRefusal;

export interface DiscInput extends WorkPhoto {
  /** Stitches in the last round; they tell the thickness of the fabric when it is not typed. */
  readonly stitches?: number;
}

/** Points of the edge that are looked for; one every half degree. */
const ANGLES = 720;
/** The region is good to a few mm; the edge is looked for this far to both sides of the circle through it, mm. */
const BAND_MM = 6;
/** An edge farther than this share of the band from its middle may lie beyond it: the band is moved there. */
const FAR_SHARE = 0.4;
const MOST_TRACES = 4;
/** Beyond these it is no disc: oval, three or four corners (a square has 0.11), points off the outline, scatter. */
const MOST_OVAL = 0.16;
const MOST_CORNERED = 0.06;
const MOST_OUTLIERS = 0.35;
const MOST_SCATTER = 0.08;

/** Diameter and roundness of a crocheted disc on the table beside the card. */
export function measureDisc(input: DiscInput): DiscResult {
  const refused = (code: ProblemCode, edgePx: readonly ImagePoint[] | null = null): DiscResult => ({
    outcome: 'refused',
    reason: problem(code),
    found: { cornersPx: input.reference.cornersPx, edgePx },
  });
  const uncertain = input.reference.view;
  if (!uncertain) return refused('card-too-oblique');
  const start = fabricThickness(input.thicknessMm, null);
  const traced = input.edgePx
    ? { edgePx: input.edgePx, extremesPx: [], contrast: null, isLikeShadow: false }
    : traceDisc(input, uncertain.view, start.valueMm);
  if (typeof traced === 'string') return refused(traced);
  const edge = traced.edgePx;

  const first = fitDisc(uncertain.view, edge, start.valueMm);
  if (!first) return refused('not-a-disc', edge);
  const stitchWidthMm = input.stitches ? (2 * Math.PI * first.coefficients[0]) / input.stitches : null;
  const thickness = fabricThickness(input.thicknessMm, stitchWidthMm);
  const fit = fitDisc(uncertain.view, edge, thickness.valueMm);
  if (!fit || !looksLikeDisc(fit)) return refused('not-a-disc', edge);
  return {
    outcome: 'measured',
    disc: measured(input, uncertain, traced, fit, thickness),
    warnings: edgeWarnings(traced),
  };
}

/** The edge all round in photo px; the same when every dark rim counts as yarn, or as shadow. */
interface TracedDisc {
  readonly edgePx: readonly ImagePoint[];
  readonly extremesPx: readonly (readonly ImagePoint[])[];
  /** Null for an edge placed by hand. */
  readonly contrast: number | null;
  readonly isLikeShadow: boolean;
}

/** The traced edge, or why there is none. */
function traceDisc(input: DiscInput, view: TableView, thicknessMm: number): TracedDisc | ProblemCode {
  const { photo, reference } = input;
  const found = findWork(photo, reference, input.insidePx ?? null);
  if (!found) return 'no-work';
  if (found.cutByFrame) return 'work-cut-off';
  const heightMm = thicknessMm / 2;
  const border = found.borderPx.map((point) => tableFromImage(view, point, heightMm)).filter((point) => point !== null);
  let circle = roughCircle(border);
  if (!circle) return 'no-work';
  if (farShare(border, circle) > MOST_OUTLIERS) return 'not-a-disc';
  const { likely, extremes } = found.colours;
  let edge = traceCircle(photo, view, heightMm, likely, circle);
  for (let round = 1; round < MOST_TRACES && Math.abs(edge.meanOffsetMm) > FAR_SHARE * reachMm(circle); round++) {
    const onTable = edge.edgePx.map((point) => tableFromImage(view, point, heightMm)).filter((point) => point !== null);
    circle = roughCircle(onTable) ?? circle;
    edge = traceCircle(photo, view, heightMm, likely, circle);
  }
  const last = circle;
  return {
    edgePx: edge.edgePx,
    extremesPx: extremes.map((colours) => traceCircle(photo, view, heightMm, colours, last).edgePx),
    contrast: believedContrast(edge.contrast, found.standsOut),
    isLikeShadow: found.isLikeShadow,
  };
}

type Circle = NonNullable<ReturnType<typeof roughCircle>>;

function reachMm({ radius }: Circle): number {
  return Math.max(BAND_MM, 0.15 * radius);
}

/** Share of points that no band about the circle would reach. */
function farShare(points: readonly TablePoint[], circle: Circle): number {
  const { centre, radius } = circle;
  const isFar = ([x, y]: TablePoint) => Math.abs(Math.hypot(x - centre[0], y - centre[1]) - radius) > reachMm(circle);
  return points.filter(isFar).length / points.length;
}

interface EdgeInBand {
  readonly edgePx: readonly ImagePoint[];
  readonly contrast: number;
  /** Mean offset from the band's middle. */
  readonly meanOffsetMm: number;
}

function traceCircle(
  photo: Photo,
  view: TableView,
  heightMm: number,
  colours: ColourModel,
  circle: Circle,
): EdgeInBand {
  const { centre, radius } = circle;
  const turns = Array.from({ length: ANGLES }, (_, i) => (2 * Math.PI * i) / ANGLES);
  const normals = turns.map((turn): TablePoint => [Math.cos(turn), Math.sin(turn)]);
  const points = normals.map(([x, y]): TablePoint => [centre[0] + radius * x, centre[1] + radius * y]);
  const band = { points, normals, closed: true, reachMm: reachMm(circle) };
  const { offsetsMm, contrast } = traceEdge(photo, view, heightMm, colours, band);
  const edgePx = points.map(([x, y], i) =>
    imageFromTable(view, [x + offsetsMm[i] * normals[i][0], y + offsetsMm[i] * normals[i][1]], heightMm),
  );
  return { edgePx, contrast, meanOffsetMm: offsetsMm.reduce((sum, offset) => sum + offset, 0) / ANGLES };
}

/** Plan points of the edge as seen, and the smooth outline through them. */
function fitDisc(view: TableView, edgePx: readonly ImagePoint[], thicknessMm: number): RoundEdge | null {
  const points = planPoints(view, edgePx, thicknessMm, null);
  const circle = points && roughCircle(points);
  return circle && fitRoundEdge(points, circle.centre);
}

function planPoints(
  view: TableView,
  edgePx: readonly ImagePoint[],
  thicknessMm: number,
  centre: TablePoint | null,
): TablePoint[] | null {
  const seen = edgePx.map((point) => tableFromImage(view, point, thicknessMm / 2));
  if (seen.some((point) => point === null)) return null;
  const points = seen as TablePoint[];
  const middle = centre ?? roughCircle(points)?.centre;
  if (!middle) return null;
  return points.map(([x, y]) => {
    const r = Math.hypot(x - middle[0], y - middle[1]);
    return planPoint(view, [x, y], [(x - middle[0]) / r, (y - middle[1]) / r], thicknessMm);
  });
}

function looksLikeDisc({ coefficients, residuals, weights }: RoundEdge): boolean {
  const radius = coefficients[0];
  const used = Array.from(residuals).filter((_, i) => weights[i] > 0);
  const scatter = Math.sqrt(used.reduce((sum, r) => sum + r * r, 0) / used.length);
  return (
    ovalOf(coefficients) < MOST_OVAL &&
    Math.hypot(...coefficients.subarray(5)) < MOST_CORNERED * radius &&
    used.length > (1 - MOST_OUTLIERS) * residuals.length &&
    scatter < MOST_SCATTER * radius
  );
}

/** (longest − shortest width) / mean width of r = a + b cos 2θ + c sin 2θ: 2 √(b² + c²) / a. */
function ovalOf(coefficients: Float64Array): number {
  return (2 * Math.hypot(coefficients[3], coefficients[4])) / coefficients[0];
}

function measured(
  input: DiscInput,
  uncertain: UncertainTableView,
  { edgePx, extremesPx, contrast, isLikeShadow }: TracedDisc,
  fit: RoundEdge,
  thickness: Thickness,
): MeasuredDisc {
  const { view } = uncertain;
  const mmPerPx = tableMmPerPx(view, fit.centre);
  const { values, covariance } = propagate(uncertain, [thickness.sdMm], (at, [thicker]) => {
    const points = planPoints(at, edgePx, thickness.valueMm + thicker, fit.centre);
    const moved = points && fitHarmonics(points, fit.centre, fit.weights);
    const c = (moved ?? fit).coefficients;
    return [2 * c[0], (2 * c[3]) / c[0], (2 * c[4]) / c[0]];
  });
  const extremes = extremesPx.map((extreme) => fitDisc(view, extreme, thickness.valueMm)).filter((one) => one !== null);
  const rimSds = [fit, ...extremes]
    .map(({ coefficients: c }) => [2 * c[0], (2 * c[3]) / c[0], (2 * c[4]) / c[0]])
    .reduce<number[][]>((columns, row) => columns.map((column, i) => [...column, row[i]]), [[], [], []])
    .map(rimSd);
  const edgeSdMm = edgeSd(thickness.valueMm, mmPerPx, contrast);
  const placedSdMm = input.edgePx ? ((input.placementSdPx ?? PLACEMENT_SD_PX) * mmPerPx) / Math.sqrt(edgePx.length) : 0;
  const meanSdMm = Math.hypot(sdOfMean(fit.residuals, fit.weights), placedSdMm);
  const shadowSdMm = shadowSd(thickness.valueMm, isLikeShadow);
  const diameterSdMm = Math.hypot(Math.sqrt(covariance[0][0]), 2 * edgeSdMm, 2 * meanSdMm, rimSds[0], shadowSdMm);
  // Loops change each of the two oval coefficients by √2 of what they change the mean, relative to the radius.
  const loopsVariance = ((2 * Math.SQRT2 * meanSdMm) / fit.coefficients[0]) ** 2;
  const oval = amplitude(values[1], values[2], [
    covariance[1][1] + loopsVariance + rimSds[1] ** 2,
    covariance[1][2],
    covariance[2][2] + loopsVariance + rimSds[2] ** 2,
  ]);
  const crowns = [...fit.residuals].filter((_, i) => fit.weights[i] > 0).sort((a, b) => a - b);
  return {
    meanDiameterMm: estimate(values[0], diameterSdMm),
    outOfRoundness: { ...oval, low95: Math.max(0, oval.low95) },
    scallopMm: Math.max(0, crowns[Math.floor(0.9 * crowns.length)]),
    thickness,
    edgePx: roundEdgePoints(fit, 120).map((point) => imageFromTable(view, point, thickness.valueMm / 2)),
  };
}

/**
 * Length of a vector whose components are uncertain. Errors at right angles to it only ever make it longer, by their
 * variance in the square.
 * Source: Wardle and Kronberg, Astrophysical Journal 194 (1974) 249, for the amplitude of polarisation (from memory).
 */
function amplitude(x: number, y: number, [xx, xy, yy]: readonly [xx: number, xy: number, yy: number]): Estimate {
  const length = Math.hypot(x, y);
  const [c, s] = length > 0 ? [x / length, y / length] : [1, 0];
  const along = c * c * xx + 2 * c * s * xy + s * s * yy;
  const across = s * s * xx - 2 * c * s * xy + c * c * yy;
  return estimate(Math.sqrt(Math.max(0, length * length - across)), Math.sqrt(along));
}
