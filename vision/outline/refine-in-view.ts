import type { ImagePoint } from '../geometry/frames.ts';
import { add, cross, dot, scale, unit, type Vector3 } from '../geometry/linear3.ts';
import { resample, signedDistance } from '../geometry/polygon.ts';
import type { Picture } from '../picture/picture.ts';
import { type AxisView, axisView, imageFromView, viewFromImage } from './axis-view.ts';
import {
  type BorderSample,
  borderCosts,
  type ColourReader,
  GROUND_MARGIN,
  placeOffset,
  readProfiles,
} from './border-profiles.ts';
import { cheapestPath } from './cheapest-path.ts';
import { type HalfOutline, halfNormals, smoothHalf } from './half-outline.ts';
import { addMaskCosts, type MaskPreference } from './mask-costs.ts';
import { sampleColour } from './view-picture.ts';
import { smoothWeighted } from './weighted-smoothing.ts';

/** A half outline together with the view it is drawn in. */
export interface ViewOutline {
  readonly view: AxisView;
  readonly half: HalfOutline;
}

export interface ViewRefinement extends ViewOutline {
  /** Mean border cost of the visible samples, 0 (sure everywhere) to about 1.6. */
  readonly cost: number;
}

export interface RefineSettings {
  /** How far the border may be off, view px. */
  readonly reach: number;
  /** Distance between samples, view px. */
  readonly spacing: number;
  /** Closed regions of the photo where no border can be seen: the card. */
  readonly hiddenPx: readonly (readonly ImagePoint[])[];
  readonly hiddenMarginPx: number;
  readonly maskPreference?: MaskPreference;
}

/** Price of moving one tap between neighbouring samples, against border costs of 0 to 1.6. */
const STEP_COST = 0.12;
const MOST_STEP = 2;
/** Preference for staying, over the whole reach. */
const STAY = 0.5;
/** Second differences of the offsets cost this much against a clear border's 1. */
const STIFFNESS = 2;
/** Places within this many taps belong to the same edge. */
const NEXT_TO = 2;
/** Lead in cost over other places at which a border is clear. */
const CLEAR_LEAD = 0.25;
/** Costlier borders than this are as good as none; they count fully when cheaper by 0.4. */
const FAINT_COST = 0.9;
/** Beyond this tilt the axis direction itself was wrong, not merely inexact. */
const MOST_TILT_RAD = 0.12;

/** Moves the half outline to the nearest border that both sides show, then turns and shifts the axis to suit them. */
export function refineInView(picture: Picture, outline: ViewOutline, settings: RefineSettings): ViewRefinement {
  const { view, half } = outline;
  const points = resample(half.points, settings.spacing) as unknown as [number, number][];
  const normals = halfNormals(points);
  const sides = ([1, -1] as const).map((side) =>
    sideCosts(picture, view, half.axisColumn, side, points, normals, settings),
  );
  const places = 2 * settings.reach + 1;
  const shared = new Float32Array(points.length * places);
  for (let i = 0; i < points.length; i++) {
    const [right, left] = [sides[0].visible[i], sides[1].visible[i]];
    for (let k = 0; k < places; k++) {
      const at = i * places + k;
      const r = sides[0].costs[at];
      const l = sides[1].costs[at];
      const stay = (STAY * Math.abs(placeOffset(k, settings.reach))) / settings.reach;
      shared[at] =
        stay + (right && left ? 0.5 * Math.max(r, l) + 0.25 * (r + l) : right ? 0.8 * r : left ? 0.8 * l : 0);
    }
  }
  const path = cheapestPath(shared, points.length, places, STEP_COST, MOST_STEP);
  let [sum, seen] = [0, 0];
  for (const side of sides) {
    for (let i = 0; i < points.length; i++) {
      if (!side.visible[i]) continue;
      sum += side.costs[i * places + path[i]];
      seen++;
    }
  }
  const cost = seen > 0 ? sum / seen : Number.POSITIVE_INFINITY;
  const weights = points.map((_, i) => clarity(shared, i, places, path[i]));
  const offsets = smoothWeighted(
    Array.from(path, (k) => placeOffset(k, settings.reach)),
    weights,
    STIFFNESS,
  );
  const moved = points.map(([aside, row], i): [number, number] => [
    Math.max(aside + offsets[i] * normals[i][0], 0),
    row + offsets[i] * normals[i][1],
  ]);
  const better = smoothHalf(moved, 0.7);
  const turn = axisCorrection(points, normals, path, sides, places, settings.reach);
  return { ...turned(view, { axisColumn: half.axisColumn, points: better }, turn), cost };
}

/** 0..1: how much the chosen place is better than any other that is not next to it. */
function clarity(costs: Float32Array, i: number, places: number, chosen: number): number {
  let rival = Number.POSITIVE_INFINITY;
  for (let k = 0; k < places; k++) {
    if (Math.abs(k - chosen) > NEXT_TO) rival = Math.min(rival, costs[i * places + k]);
  }
  const lead = rival - costs[i * places + chosen];
  const strength = Math.min(Math.max((FAINT_COST - costs[i * places + chosen]) / 0.4, 0), 1);
  return (strength * Math.min(Math.max(lead / CLEAR_LEAD, 0), 1)) ** 2;
}

interface SideCosts {
  readonly costs: Float32Array;
  readonly visible: Uint8Array;
}

function sideCosts(
  picture: Picture,
  view: AxisView,
  axisColumn: number,
  side: 1 | -1,
  points: readonly (readonly [number, number])[],
  normals: readonly (readonly [number, number])[],
  settings: RefineSettings,
): SideCosts {
  const visible = new Uint8Array(points.length);
  const samples = points.map(([aside, row], i): BorderSample => {
    const x = axisColumn + side * aside;
    const place = imageFromView(view, x, row);
    visible[i] = place && !isHidden(place, settings) ? 1 : 0;
    return { x, y: row, normalX: side * normals[i][0], normalY: normals[i][1] };
  });
  const read: ColourReader = (x, y, colour) => {
    const place = imageFromView(view, x, y);
    return place !== null && sampleColour(picture, place, colour);
  };
  const profiles = readProfiles(samples, settings.reach + GROUND_MARGIN, 1, read);
  for (let i = 0; i < points.length; i++) if (!profiles.inPicture[i]) visible[i] = 0;
  const costs = borderCosts(profiles, settings.reach);
  if (settings.maskPreference) {
    const reach = settings.reach;
    const ends = (i: number) => {
      const { x, y, normalX, normalY } = samples[i];
      const inner = imageFromView(view, x - (reach + 0.5) * normalX, y - (reach + 0.5) * normalY);
      const outer = imageFromView(view, x + (reach - 0.5) * normalX, y + (reach - 0.5) * normalY);
      return inner && outer && visible[i] ? ([inner, outer] as const) : null;
    };
    addMaskCosts(costs, 2 * reach + 1, ends, settings.maskPreference);
  }
  return { costs, visible };
}

function isHidden(place: ImagePoint, { hiddenPx, hiddenMarginPx }: RefineSettings): boolean {
  return hiddenPx.some((polygon) => signedDistance(polygon, place) < hiddenMarginPx);
}

interface AxisTurn {
  readonly shift: number;
  readonly tilt: number;
  readonly middleRow: number;
}

/** Line through half the difference of where the two sides lie on their own, close to the shared border. */
function axisCorrection(
  points: readonly (readonly [number, number])[],
  normals: readonly (readonly [number, number])[],
  path: Int16Array,
  sides: readonly SideCosts[],
  places: number,
  reach: number,
): AxisTurn {
  const freedom = Math.max(Math.round(reach / 3), 2);
  const rows: number[] = [];
  const shifts: number[] = [];
  const weights: number[] = [];
  points.forEach(([, row], i) => {
    if (!sides[0].visible[i] || !sides[1].visible[i] || Math.abs(normals[i][0]) < 0.5) return;
    const [right, left] = sides.map((side) => cheapestNear(side.costs, i, places, path[i], freedom));
    if (right.cost > 0.9 || left.cost > 0.9) return;
    rows.push(row);
    shifts.push((right.place - left.place) / 2 / normals[i][0]);
    weights.push(normals[i][0] ** 2);
  });
  const middleRow = points.length > 0 ? (points[0][1] + points[points.length - 1][1]) / 2 : 0;
  if (rows.length < 12) return { shift: 0, tilt: 0, middleRow };
  const span = Math.max(...rows) - Math.min(...rows);
  const height = points[points.length - 1][1] - points[0][1];
  let [shift, tilt] = [0, 0];
  for (let round = 0; round < 5; round++) {
    let [w, wx, wxx, wy, wxy] = [0, 0, 0, 0, 0];
    for (let i = 0; i < rows.length; i++) {
      const x = rows[i] - middleRow;
      const weight = weights[i] / (1 + ((shifts[i] - shift - tilt * x) / 1.5) ** 2);
      w += weight;
      wx += weight * x;
      wxx += weight * x * x;
      wy += weight * shifts[i];
      wxy += weight * x * shifts[i];
    }
    const determinant = w * wxx - wx * wx;
    if (span < 0.35 * height || determinant < 1e-6) {
      shift = wy / w;
      continue;
    }
    tilt = (w * wxy - wx * wy) / determinant;
    shift = (wxx * wy - wx * wxy) / determinant;
  }
  return { shift, tilt: Math.min(Math.max(tilt, -MOST_TILT_RAD), MOST_TILT_RAD), middleRow };
}

function cheapestNear(costs: Float32Array, i: number, places: number, at: number, freedom: number) {
  let best = { place: at, cost: Number.POSITIVE_INFINITY };
  for (let k = Math.max(at - freedom, 0); k <= Math.min(at + freedom, places - 1); k++) {
    const cost = costs[i * places + k] + 0.02 * Math.abs(k - at);
    if (cost < best.cost) best = { place: k, cost };
  }
  return best;
}

/** The view about the corrected axis, with the outline carried over. */
function turned(view: AxisView, half: HalfOutline, { shift, tilt, middleRow }: AxisTurn): ViewOutline {
  const pivot = imageFromView(view, half.axisColumn + shift, middleRow);
  if (!pivot || (Math.abs(tilt) < 1e-4 && Math.abs(shift) < 1e-3)) return { view, half };
  const sight = unit([
    (pivot[0] - view.camera.centreXPx) / view.camera.focalPx,
    (pivot[1] - view.camera.centreYPx) / view.camera.focalPx,
    1,
  ]);
  const axis = rotateAbout(view.axis, sight, -tilt);
  return (
    carriedOver(
      { view, half: { ...half, axisColumn: half.axisColumn + shift } },
      axis,
      middleRow,
      view.viewPxPerRad,
    ) ?? { view, half }
  );
}

/** The same outline in a view about a (slightly) different axis or of a different scale; null when there is no such view. */
export function carriedOver(
  { view, half }: ViewOutline,
  axis: Vector3,
  pivotRow: number,
  viewPxPerRad: number,
): ViewOutline | null {
  const pivot = imageFromView(view, half.axisColumn, pivotRow);
  if (!pivot) return null;
  const corners = (
    [
      [0, 0],
      [view.columns - 1, 0],
      [0, view.rows - 1],
      [view.columns - 1, view.rows - 1],
    ] as const
  )
    .map(([column, row]) => imageFromView(view, column, row))
    .filter((at) => at !== null);
  const draft = axisView(view.camera, axis, corners, 100);
  if (!draft) return null;
  const next = axisView(view.camera, axis, corners, (99 * viewPxPerRad) / draft.viewPxPerRad + 1);
  const at = next && viewFromImage(next, pivot);
  if (!next || !at) return null;
  const zoom = viewPxPerRad / view.viewPxPerRad;
  return {
    view: next,
    half: {
      axisColumn: at[0],
      points: half.points.map(([aside, row]) => [aside * zoom, at[1] + (row - pivotRow) * zoom]),
    },
  };
}

function rotateAbout(v: Vector3, direction: Vector3, angle: number): Vector3 {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return unit(add(add(scale(v, c), scale(cross(direction, v), s)), scale(direction, dot(direction, v) * (1 - c))));
}
