import { type Camera, castRay, RAY_SIZE } from '../geometry/camera-ray.ts';
import { principalPointSdPx } from '../geometry/focal-prior.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { informationMatrix, invertSymmetric, leastSquares } from '../geometry/least-squares.ts';
import {
  add,
  anyPerpendicular,
  cross,
  type Matrix3,
  multiplyMatrices,
  multiplyTransposed,
  rotationFromVector,
  scale,
  unit,
  type Vector3,
} from '../geometry/linear3.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { RoundReference } from './round-reference.ts';
import { K1_SD, numericProblem, type TablePoint, type TableView, type UncertainTableView } from './table-view.ts';

const LOG_FOCAL = 0;
const CENTRE_X = 1;
const CENTRE_Y = 2;
const RADIAL_K1 = 3;
const TILT = 4;
const SHIFT = 6;
const SIZE = 9;
const HALO = 10;
const NEAR_EDGE = 11;
const COUNT = 12;
const PRIORS = [LOG_FOCAL, CENTRE_X, CENTRE_Y, RADIAL_K1, TILT, TILT + 1, SIZE, HALO, NEAR_EDGE] as const;

/** Seen straight from above a circle says nothing about small tilts; a hand holds the phone level to about this. */
const TILT_SD_RAD = 0.4;
/** How far the whole rim is found too far out, px: what blur before tone mapping leaves in renders. */
const HALO_SD_PX = 0.25;
const FEWEST_POINTS = 6;
/** The near edge found lies anywhere between lower and upper rim: rectangular, as shares of the thickness (JCGM 100, 4.3.7). */
const NEAR_EDGE_SHARE = { mean: 0.5, sd: 1 / Math.sqrt(12) };

export interface RoundViewInput {
  readonly rimPx: readonly ImagePoint[];
  /** Points on the rim of the upper face, or on the outermost edge, which on the near side may be that of the lower face. */
  readonly edge?: 'upper' | 'outermost';
  /** Standard uncertainty of each point, px. */
  readonly pointSdPx: number;
  readonly reference: RoundReference;
  readonly focalPrior: FocalPrior;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly looksCropped: boolean;
}

/**
 * The camera over the table from a round reference. A circle has two poses that look exactly alike; the one taken has
 * the far side of the table towards the top of the upright photo, as whoever photographs a table sees it.
 * @returns null for fewer than six points or points on no ellipse
 */
export function roundTableView(input: RoundViewInput): UncertainTableView | null {
  const { rimPx, reference, focalPrior, widthPx, heightPx } = input;
  if (rimPx.length < FEWEST_POINTS) return null;
  const nominal: Camera = {
    focalPx: focalPrior.focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    k1: 0,
  };
  const start = startingPose(rimPx, nominal, reference.diameterMm / 2);
  const centreSdPx = principalPointSdPx(widthPx, heightPx, input.looksCropped);
  const priorSd = [
    focalPrior.relativeSd,
    centreSdPx,
    centreSdPx,
    K1_SD,
    TILT_SD_RAD,
    TILT_SD_RAD,
    reference.relativeSd,
    HALO_SD_PX,
    NEAR_EDGE_SHARE.sd,
  ];
  const at = (p: ArrayLike<number>): TableView => {
    const camera: Camera = {
      focalPx: nominal.focalPx * Math.exp(p[LOG_FOCAL]),
      centreXPx: nominal.centreXPx + p[CENTRE_X],
      centreYPx: nominal.centreYPx + p[CENTRE_Y],
      k1: p[RADIAL_K1],
    };
    const rotation = multiplyMatrices(start.rotation, rotationFromVector([p[TILT], p[TILT + 1], 0]));
    const grown = 1 + p[SIZE];
    const translationMm = scale(add(start.translationMm, [p[SHIFT], p[SHIFT + 1], p[SHIFT + 2]]), grown);
    const [x, y, z] = multiplyTransposed(rotation, translationMm);
    return {
      camera,
      rotation,
      translationMm,
      stretch: 1,
      faceHeightMm: reference.thicknessMm,
      eyeMm: [-x, -y, -z + reference.thicknessMm],
    };
  };
  const ray = new Float64Array(RAY_SIZE);
  const residualsAt = (p: ArrayLike<number>, residuals: Float64Array): boolean => {
    const view = at(p);
    const radiusMm = (reference.diameterMm / 2) * (1 + p[SIZE]);
    for (let i = 0; i < rimPx.length; i++) {
      if (!castRay(view.camera, rimPx[i][0], rimPx[i][1], ray)) return false;
      const direction = multiplyTransposed(view.rotation, [ray[0], ray[1], 1]);
      const onPlane = (heightMm: number): TablePoint => {
        const t = (heightMm - view.eyeMm[2]) / direction[2];
        return [view.eyeMm[0] + t * direction[0], view.eyeMm[1] + t * direction[1]];
      };
      if (!(direction[2] < 0)) return false;
      let [x, y] = onPlane(reference.thicknessMm);
      const isNear = x * view.eyeMm[0] + y * view.eyeMm[1] > 0;
      if (input.edge === 'outermost' && isNear) {
        [x, y] = onPlane(reference.thicknessMm * (NEAR_EDGE_SHARE.mean + p[NEAR_EDGE]));
      }
      const away = Math.hypot(x, y);
      residuals[i] = ((away - radiusMm) / start.mmPerPx - p[HALO]) / input.pointSdPx;
    }
    PRIORS.forEach((column, i) => {
      residuals[rimPx.length + i] = p[column] / priorSd[i];
    });
    return true;
  };
  const problem = numericProblem(COUNT, rimPx.length + PRIORS.length, residualsAt);
  const fit = leastSquares(problem, new Float64Array(COUNT));
  const covariance = fit && invertSymmetric(informationMatrix(fit), COUNT);
  if (!fit || !covariance) return null;
  return {
    view: at(fit.parameters),
    covariance,
    deviationCount: COUNT,
    at: (deviation) => at(fit.parameters.map((value, i) => value + deviation[i])),
  };
}

interface StartingPose {
  readonly rotation: Matrix3;
  readonly translationMm: Vector3;
  readonly mmPerPx: number;
}

/** From the second moments of the rim points: the long axis gives the distance, the ratio of axes the tilt. */
function startingPose(rimPx: readonly ImagePoint[], camera: Camera, radiusMm: number): StartingPose {
  const n = rimPx.length;
  const [mx, my] = [0, 1].map((k) => rimPx.reduce((sum, point) => sum + point[k], 0) / n);
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of rimPx) {
    xx += (x - mx) ** 2 / n;
    xy += ((x - mx) * (y - my)) / n;
    yy += (y - my) ** 2 / n;
  }
  const spread = Math.hypot((xx - yy) / 2, xy);
  const middle = (xx + yy) / 2;
  const longPx = Math.sqrt(2 * (middle + spread));
  const cosTilt = Math.sqrt(Math.max(middle - spread, 0) / (middle + spread));
  const shortTurn = Math.atan2(2 * xy, xx - yy) / 2 + Math.PI / 2;
  const sight = unit([(mx - camera.centreXPx) / camera.focalPx, (my - camera.centreYPx) / camera.focalPx, 1]);
  const sinTilt = Math.sqrt(1 - cosTilt * cosTilt);
  // Up from the table points to the top of the photo, which is −y.
  const sign = Math.sin(shortTurn) > 0 ? -1 : 1;
  const normal = unit(
    add(scale(sight, -cosTilt), [sign * sinTilt * Math.cos(shortTurn), sign * sinTilt * Math.sin(shortTurn), 0]),
  );
  const x = unit(anyPerpendicular(normal));
  const y = cross(normal, x);
  const mmPerPx = radiusMm / longPx;
  const distanceMm = camera.focalPx * mmPerPx;
  return {
    rotation: [x[0], y[0], normal[0], x[1], y[1], normal[1], x[2], y[2], normal[2]],
    translationMm: scale(sight, distanceMm / sight[2]),
    mmPerPx,
  };
}
