import { type Camera, castRay, projectPoint, RAY_SIZE } from '../geometry/camera-ray.ts';
import { cardCornersMm, cardPoses } from '../geometry/card-pose.ts';
import { principalPointSdPx } from '../geometry/focal-prior.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { informationMatrix, invertSymmetric, leastSquares } from '../geometry/least-squares.ts';
import {
  type Matrix3,
  multiply,
  multiplyMatrices,
  multiplyTransposed,
  rotationFromVector,
  type Vector3,
} from '../geometry/linear3.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { CardSide, CardSighting } from '../sighting.ts';
import type { FlatReference } from './reference.ts';

/** A point of a plane parallel to the table, mm, in the card's x and y. */
export type TablePoint = readonly [xMm: number, yMm: number];

/** The camera over the table. Lengths in mm, z up from the table. */
export interface TableView {
  readonly camera: Camera;
  /** Camera from table: x and y are the card's, z the table's normal. */
  readonly rotation: Matrix3;
  readonly translationMm: Vector3;
  /** How much wider than high the photo's pixels were made: 1 but for pictures that were scaled unevenly. */
  readonly stretch: number;
  /** Height of the reference's visible face above the table. */
  readonly faceHeightMm: number;
  /** Camera centre in the card's x and y, height above the table. */
  readonly eyeMm: Vector3;
}

/** The view that fits the card best, and how it may be off: `at` gives the view for any deviation. */
export interface UncertainTableView {
  readonly view: TableView;
  /** Standard deviations and correlations of the deviations, row-major. */
  readonly covariance: Float64Array;
  readonly deviationCount: number;
  at(deviation: ArrayLike<number>): TableView;
}

const LOG_FOCAL = 0;
const CENTRE_X = 1;
const CENTRE_Y = 2;
const RADIAL_K1 = 3;
const TURN = 4;
const SHIFT = 7;
const CARD_SIZE = 10;
const HALO = 11;
const LOG_STRETCH = 12;
const CARD_LIFT = 13;
const COUNT = 15;
const CARD_ROWS = 8;
const PRIORS = [
  LOG_FOCAL,
  CENTRE_X,
  CENTRE_Y,
  RADIAL_K1,
  CARD_SIZE,
  HALO,
  LOG_STRETCH,
  CARD_LIFT,
  CARD_LIFT + 1,
] as const;

/** Phone lenses are corrected to about this; the same prior as the container's model has. */
export const K1_SD = 0.01;
/**
 * Tone curve and sharpening move all four sides found in a photo alike: half of the variance of a side's place is common
 * to them, half its own. Hands err on each side anew.
 */
const COMMON_SHARE = { found: 0.5, placed: 1e-4 };
/** Cards lie flat to about this angle, embossed, bowed or on a crumb; the same as in the container's model. */
const LIFT_SD_RAD = (0.4 * Math.PI) / 180;
/**
 * Sensors have square pixels. Whoever crops a picture may also scale its sides unevenly, to fit a page say: by a per cent
 * or so (a real photo of two cards on a ruled mat was 1.0 % ± 0.1 % too wide; its card alone gives that away).
 */
const STRETCH_SD = { original: 2e-4, edited: 0.01 };

export interface TableViewInput {
  readonly card: CardSighting;
  readonly reference: FlatReference;
  readonly focalPrior: FocalPrior;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly looksCropped: boolean;
}

/**
 * Camera, lens and card size from the card alone, with their common uncertainty: Gauss–Markov estimate with priors for
 * what one card cannot tell (lens, principal point, distortion, the card's own tolerance).
 * @returns null when the corners are no view of the reference
 */
export function tableView(input: TableViewInput): UncertainTableView | null {
  const { card, reference, focalPrior, widthPx, heightPx } = input;
  const nominal: Camera = {
    focalPx: focalPrior.focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    k1: 0,
  };
  const cornersMm = cardCornersMm(reference, card.longSide);
  const turnSdsPx = card.sides.map(turnSdPx);
  const common = card.sides.some(({ edgePointsPx }) => edgePointsPx.length > 0)
    ? COMMON_SHARE.found
    : COMMON_SHARE.placed;
  const centreSdPx = principalPointSdPx(widthPx, heightPx, input.looksCropped);
  const stretchSd = input.looksCropped ? STRETCH_SD.edited : STRETCH_SD.original;
  const priorSd = [
    focalPrior.relativeSd,
    centreSdPx,
    centreSdPx,
    K1_SD,
    reference.relativeSd,
    Math.sqrt(common) * meanOf(card.sides.map(({ sdPx }) => sdPx)),
    stretchSd,
    LIFT_SD_RAD,
    LIFT_SD_RAD,
  ];

  let best: { cost: number; view: UncertainTableView } | null = null;
  for (const pose of cardPoses(card.cornersPx, card.longSide, reference, nominal)) {
    const cameraFromCard = (p: ArrayLike<number>) =>
      multiplyMatrices(rotationFromVector([p[TURN], p[TURN + 1], p[TURN + 2]]), pose.rotation);
    const at = (p: ArrayLike<number>): TableView => {
      const camera: Camera = {
        focalPx: nominal.focalPx * Math.exp(p[LOG_FOCAL]),
        centreXPx: nominal.centreXPx + p[CENTRE_X],
        centreYPx: nominal.centreYPx + p[CENTRE_Y],
        k1: p[RADIAL_K1],
      };
      const rotation = multiplyMatrices(cameraFromCard(p), rotationFromVector([p[CARD_LIFT], p[CARD_LIFT + 1], 0]));
      const translationMm: Vector3 = [0, 1, 2].map((i) => pose.translationMm[i] + p[SHIFT + i]) as unknown as Vector3;
      const [ex, ey, ez] = multiplyTransposed(rotation, translationMm);
      // A card larger than its nominal size makes everything else larger too.
      const grown = 1 + p[CARD_SIZE];
      return {
        camera,
        rotation,
        translationMm: [translationMm[0] * grown, translationMm[1] * grown, translationMm[2] * grown],
        stretch: Math.exp(p[LOG_STRETCH]),
        faceHeightMm: reference.thicknessMm,
        eyeMm: [-ex * grown, -ey * grown, -ez * grown + reference.thicknessMm],
      };
    };
    const residualsAt = (p: ArrayLike<number>, residuals: Float64Array): boolean => {
      const view = at(p);
      const cardRotation = cameraFromCard(p);
      const seen: ImagePoint[] = [];
      for (const corner of cornersMm) {
        const [x, y, z] = multiply(cardRotation, corner);
        const depth = z + pose.translationMm[2] + p[SHIFT + 2];
        if (depth < 1) return false;
        seen.push(
          stretched(
            view,
            projectPoint(
              view.camera,
              x + pose.translationMm[0] + p[SHIFT],
              y + pose.translationMm[1] + p[SHIFT + 1],
              depth,
            ),
          ),
        );
      }
      for (let k = 0; k < 4; k++) {
        const [ax, ay] = card.cornersPx[k];
        const [bx, by] = card.cornersPx[(k + 1) % 4];
        const length = Math.hypot(bx - ax, by - ay);
        // Clockwise in the image, so (dy, −dx) points out of the card.
        const [outX, outY] = [(by - ay) / length, -(bx - ax) / length];
        const [start, end] = [0, 1].map((i) => {
          const [u, v] = seen[(k + i) % 4];
          return (u - ax) * outX + (v - ay) * outY + p[HALO];
        });
        residuals[2 * k] = (start + end) / 2 / (Math.sqrt(1 - common) * card.sides[k].sdPx);
        residuals[2 * k + 1] = (end - start) / 2 / turnSdsPx[k];
      }
      PRIORS.forEach((column, i) => {
        residuals[CARD_ROWS + i] = p[column] / priorSd[i];
      });
      return true;
    };
    const fit = leastSquares(numericProblem(COUNT, CARD_ROWS + PRIORS.length, residualsAt), new Float64Array(COUNT));
    if (!fit) continue;
    const covariance = invertSymmetric(informationMatrix(fit), COUNT);
    if (!covariance || (best && best.cost <= fit.cost)) continue;
    const { parameters } = fit;
    best = {
      cost: fit.cost,
      view: {
        view: at(parameters),
        covariance,
        deviationCount: COUNT,
        at: (deviation) => at(parameters.map((value, i) => value + deviation[i])),
      },
    };
  }
  return best?.view ?? null;
}

/** Samples along a side that err independently, as the card finder counts them. */
const INDEPENDENT_SAMPLES = 12;
/**
 * Blur, light and the edge face differ along a side, so that what moves it also turns it: by half as much. On 80 sides of 20
 * path-traced cards (seeds from 910000 to 940100, 1600 px) found sides turn by 0.33 px rms where their stated
 * uncertainty is 0.45 px and their samples account for 0.15 px: 0.5 holds 94 % of them, 0.6 would make the root mean square
 * right. Ray-cast cards, evenly lit and sharp, turn by their samples alone.
 */
const TURN_OF_PLACE = 0.5;

/**
 * How far the ends of a side are off in opposite directions, px. What moves the whole side turns it less; the scatter of
 * its samples counts √3 times as much at the ends as in the mean (a line through evenly spread points). Without samples
 * (placed by hand) a side turns as much as it is off.
 */
function turnSdPx({ edgePointsPx, sdPx }: CardSide): number {
  const n = edgePointsPx.length;
  if (n < INDEPENDENT_SAMPLES) return sdPx;
  const [mx, my] = [0, 1].map((i) => meanOf(edgePointsPx.map((point) => point[i])));
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of edgePointsPx) {
    xx += (x - mx) ** 2 / n;
    xy += ((x - mx) * (y - my)) / n;
    yy += (y - my) ** 2 / n;
  }
  const scatter = Math.sqrt(Math.max(0, (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy)));
  return Math.hypot(TURN_OF_PLACE * sdPx, scatter * Math.sqrt(3 / INDEPENDENT_SAMPLES));
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Where the viewing ray of a pixel meets the plane `heightMm` above the table; null when it never does. */
export function tableFromImage(view: TableView, [uPx, vPx]: ImagePoint, heightMm: number): TablePoint | null {
  const ray = new Float64Array(RAY_SIZE);
  const { centreXPx } = view.camera;
  if (!castRay(view.camera, centreXPx + (uPx - centreXPx) / view.stretch, vPx, ray)) return null;
  const [dx, dy, dz] = multiplyTransposed(view.rotation, [ray[0], ray[1], 1]);
  if (dz >= -1e-6) return null;
  const t = (heightMm - view.eyeMm[2]) / dz;
  return t > 0 ? [view.eyeMm[0] + t * dx, view.eyeMm[1] + t * dy] : null;
}

/** Image of a point `heightMm` above the table. */
export function imageFromTable(view: TableView, [xMm, yMm]: TablePoint, heightMm: number): ImagePoint {
  const { rotation: r, translationMm: t } = view;
  const z = heightMm - view.faceHeightMm;
  return stretched(
    view,
    projectPoint(
      view.camera,
      r[0] * xMm + r[1] * yMm + r[2] * z + t[0],
      r[3] * xMm + r[4] * yMm + r[5] * z + t[1],
      r[6] * xMm + r[7] * yMm + r[8] * z + t[2],
    ),
  );
}

/** Where a point lies in the photo that would lie there with square pixels. */
function stretched({ camera, stretch }: Pick<TableView, 'camera' | 'stretch'>, [uPx, vPx]: ImagePoint): ImagePoint {
  return [camera.centreXPx + stretch * (uPx - camera.centreXPx), vPx];
}

/** Size of one photo pixel on the table around a point, geometric mean over directions, mm. */
export function tableMmPerPx(view: TableView, [x, y]: TablePoint): number {
  const at = imageFromTable(view, [x, y], 0);
  const right = imageFromTable(view, [x + 1, y], 0);
  const up = imageFromTable(view, [x, y + 1], 0);
  const area = (right[0] - at[0]) * (up[1] - at[1]) - (right[1] - at[1]) * (up[0] - at[0]);
  return 1 / Math.sqrt(Math.abs(area));
}

/**
 * Covariance of quantities that depend on the view: J Σ Jᵀ with central differences half a standard deviation wide.
 * Source: JCGM 102:2011, 6.2.1.3.
 * @param extraSds  standard deviations of further independent inputs, appended to the deviations
 * @param quantities  called with deviations of both kinds; must be smooth in them
 */
export function propagate(
  uncertain: UncertainTableView,
  extraSds: readonly number[],
  quantities: (view: TableView, extra: Float64Array) => readonly number[],
): { readonly values: readonly number[]; readonly covariance: readonly (readonly number[])[] } {
  const n = uncertain.deviationCount;
  const extra = new Float64Array(extraSds.length);
  const values = quantities(uncertain.view, extra);
  const m = values.length;
  const sds = [...Array.from({ length: n }, (_, i) => Math.sqrt(uncertain.covariance[i * n + i])), ...extraSds];
  const slopes = sds.map((sd, i) => {
    if (sd === 0) return values.map(() => 0);
    const deviate = (sign: number): readonly number[] => {
      const deviation = new Float64Array(n);
      const further = new Float64Array(extraSds.length);
      if (i < n) deviation[i] = (sign * sd) / 2;
      else further[i - n] = (sign * sd) / 2;
      return quantities(i < n ? uncertain.at(deviation) : uncertain.view, further);
    };
    const [up, down] = [deviate(1), deviate(-1)];
    return values.map((_, q) => (up[q] - down[q]) / sd);
  });
  const covarianceOf = (i: number, j: number): number => {
    if (i < n && j < n) return uncertain.covariance[i * n + j];
    return i === j ? sds[i] * sds[i] : 0;
  };
  const covariance = Array.from({ length: m }, (_, a) =>
    Array.from({ length: m }, (_, b) => {
      let sum = 0;
      for (let i = 0; i < sds.length; i++) {
        for (let j = 0; j < sds.length; j++) sum += slopes[i][a] * covarianceOf(i, j) * slopes[j][b];
      }
      return sum;
    }),
  );
  return { values, covariance };
}

/** Central differences: the problem is small enough for them. */
export function numericProblem(
  parameterCount: number,
  residualCount: number,
  residualsAt: (p: ArrayLike<number>, residuals: Float64Array) => boolean,
) {
  const up = new Float64Array(residualCount);
  const down = new Float64Array(residualCount);
  return {
    parameterCount,
    residualCount,
    evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array | null): boolean {
      if (!residualsAt(parameters, residuals)) return false;
      if (!jacobian) return true;
      for (let j = 0; j < parameterCount; j++) {
        const step = 1e-5 * Math.max(1, Math.abs(parameters[j]));
        const moved = Float64Array.from(parameters);
        moved[j] = parameters[j] + step;
        if (!residualsAt(moved, up)) return false;
        moved[j] = parameters[j] - step;
        if (!residualsAt(moved, down)) return false;
        for (let i = 0; i < residualCount; i++) jacobian[i * parameterCount + j] = (up[i] - down[i]) / (2 * step);
      }
      return true;
    },
  };
}
