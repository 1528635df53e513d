import { type Camera, castRay, RAY_SIZE } from '../geometry/camera-ray.ts';
import { GrazingRay, type SeenSolid, type TouchedPlace } from '../geometry/grazing-ray.ts';
import type { LeastSquaresProblem } from '../geometry/least-squares.ts';
import {
  add,
  cross,
  dot,
  leftJacobian,
  type Matrix3,
  multiply,
  multiplyMatrices,
  multiplyTransposed,
  rotationFromVector,
  scale,
  subtract,
  unit,
  type Vector3,
} from '../geometry/linear3.ts';
import type { Arrangement } from '../measurement.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { CardSighting, OutlinePoint } from '../sighting.ts';
import {
  arrangementEquations,
  axisOf,
  EquationRows,
  type LowerSide,
  MAX_EQUATIONS,
  type StandingGap,
} from './arrangement-equations.ts';
import { CoinSolid, ROUNDING_LOG_SD, SIDE_LOG_SD } from './coin-solid.ts';
import {
  AXIS_TURN,
  BASE_CENTRE,
  CARD_BOW,
  CARD_SHIFT,
  CARD_SIZE,
  CARD_TURN,
  CENTRE_X,
  CENTRE_Y,
  LOG_BASE_EDGE,
  LOG_FOCAL,
  LOG_HEIGHT,
  LOG_RIM_ROUNDING,
  LOG_RIM_SIDE,
  LOG_TOP_EDGE,
  OUTLINE_HALO,
  RADIAL_K1,
  RIM_HALO,
  SIDE_HALO,
  WALL,
} from './parameters.ts';
import {
  drawProfile,
  type KnotLayout,
  newProfileCurve,
  type ProfileCurve,
  type ProfileShape,
  traceVertex,
} from './profile-curve.ts';

/** Samples of one card side, with the direction across it (unit, out of the card) and the sd of each sample. */
export interface SideSamples {
  readonly pointsPx: readonly (readonly [number, number])[];
  readonly normal: readonly [number, number];
  readonly sdPx: number;
  /** Sd of the whole side lying too far out: halo, and the card's edge face where it is seen. */
  readonly haloSdPx: number;
}

/** Everything the model is fitted to. */
export interface Observations {
  /** Of a card; a coin or disc has none. */
  readonly sides: readonly SideSamples[];
  /** Of a coin or disc, and the sd of all of it lying too far out. */
  readonly rim: readonly OutlinePoint[];
  readonly rimHaloSdPx: number;
  readonly longSide: CardSighting['longSide'];
  readonly outline: readonly OutlinePoint[];
  /** Outline sds are multiplied by this: neighbours err alike, and the model may not fit quite. */
  readonly outlineSdFactor: number;
  readonly outlineHaloSdPx: number;
  /** Where the outline was placed by hand; nothing is too far out here, and no sample repeats another. */
  readonly hand: readonly OutlinePoint[];
  readonly focalPrior: FocalPrior;
  readonly centrePx: readonly [number, number];
  readonly centreSdPx: number;
  readonly reference: FlatReference;
  readonly arrangement: Arrangement;
  readonly lowerSide: LowerSide | null;
  /** Of a container that stands. */
  readonly standsAt: StandingGap;
}

/** A solid as the camera sees it, and where it is: cardFromSolid. */
interface Solid extends SeenSolid {
  readonly rotation: Matrix3;
  readonly originMm: Vector3;
}

interface Touched {
  readonly place: TouchedPlace;
  /** Change of the residual for each mm that the surface moves out. */
  readonly gain: number;
  readonly normalInCard: Vector3;
  /** From the solid's origin, in the card frame. */
  readonly offset: Vector3;
}

/** Rotations that the rotation-vector parameters start from. */
export interface ModelFrame {
  /** cameraFromCard. */
  readonly cardRotation: Matrix3;
  /** cardFromContainer; third column is the axis. */
  readonly containerRotation: Matrix3;
  readonly knots: KnotLayout;
  /** Which knots no outline sample shows: between them only a gently bent wall is believed. */
  readonly unseenKnots: readonly boolean[];
}

/** Model evaluated at one list of parameters. */
export interface ModelState {
  readonly camera: Camera;
  /** cameraFromCard. */
  readonly rotation: Matrix3;
  readonly translationMm: Vector3;
  /** cardFromContainer. */
  readonly containerRotation: Matrix3;
  readonly baseCentreMm: Vector3;
  readonly axis: Vector3;
  readonly heightMm: number;
  readonly baseEdgeMm: number;
  readonly topEdgeMm: number;
}

const K1_SD = 0.01;
const BOW_SD_MM = 0.2;
/** Edge radii as found on tins, jars and bottles: half a millimetre to a centimetre; sd of the natural logarithm. */
const BASE_EDGE_MM = 3.5;
const TOP_EDGE_MM = 1.5;
const EDGE_RELATIVE_SD = 0.6;
/**
 * Walls are straight unless seen otherwise: second differences of the knots have a Cauchy prior, whose heavy tails
 * leave real edges alone. Share of the height; tests/vision/container/fit-container.test.ts.
 */
const BEND_SD_SHARE = 0.0002;
/** Where nothing is seen there is no evidence of an edge, but the wall may well be curved. */
const UNSEEN_BEND_SD_SHARE = 0.0004;
const BEND_CAUCHY = 1;
/** Edges of the wall are set where the carved profile has them, give or take. */
const EDGE_SHIFT_SD_MM = 2;
/** Outline points that do not belong (spout, shadow) lose their weight beyond about this many sds. */
const OUTLINE_CAUCHY = 3;
/** Turning a coin about its own middle changes nothing that is seen: an sd that only keeps the equations regular. */
const SPIN_SD_RAD = 0.1;
/**
 * Whoever photographs a table stands before it and holds the phone about level: in the upright photo the table's normal
 * leans to the top, not to the bottom, and little to the side; components of the unit vector. From memory, no source. It
 * decides between the two poses of a circle where nothing else does. Now and then a picture is turned: near from above the
 * phone cannot tell, and programs forget. The heavy tail costs χ² 6 for one upside down seen 25° from above, 9 for one seen
 * 45° from above: one such picture in twenty or a hundred, a judgement.
 */
const SIDEWAYS_SD = 0.25;
const FAR_SIDE_DOWN_SD = 0.12;
const TURNED_CAUCHY = 2;
const TABLE_ROWS = 3;
const UNTURNED: Matrix3 = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** The model as a least-squares problem, and the means to read a solution. */
export class ContainerModel implements LeastSquaresProblem {
  readonly parameterCount: number;
  readonly residualCount: number;
  readonly cauchyScale: Float64Array;
  /** The wall's knots. */
  readonly neighbourly: { readonly from: number; readonly to: number };
  readonly curve: ProfileCurve;
  /** First row of the outline; the rows before it are the card, those after it the equations and the priors. */
  readonly outlineRow: number;
  readonly equationRow: number;
  readonly priorRow: number;
  /** First row of the wall's bends; those before it are the priors of single parameters. */
  readonly bendRow: number;
  /** First row of what was placed by hand, the last rows. */
  readonly handRow: number;
  /** Height over the base of the point each outline ray touches, mm; from the last evaluation. */
  readonly touchZMm: Float64Array;
  /** The same of what was placed by hand. */
  readonly handTouchZMm: Float64Array;
  private readonly coin: CoinSolid;
  private readonly rimRow: number;

  constructor(
    readonly seen: Observations,
    readonly frame: ModelFrame,
  ) {
    const knots = frame.knots.knotShares.length;
    const edges = frame.knots.edgeShares.length;
    this.curve = newProfileCurve(frame.knots);
    this.parameterCount = WALL + knots + edges;
    this.neighbourly = { from: WALL, to: WALL + knots };
    this.coin = new CoinSolid(seen.reference);
    this.rimRow = seen.sides.reduce((sum, side) => sum + side.pointsPx.length, 0);
    this.outlineRow = this.rimRow + seen.rim.length;
    this.equationRow = this.outlineRow + seen.outline.length;
    this.priorRow = this.equationRow + MAX_EQUATIONS;
    const globalPriors = 4 + 2 + 2 + 1 + 4 + edges + (seen.rim.length > 0 ? TABLE_ROWS : 0);
    this.bendRow = this.priorRow + globalPriors;
    this.handRow = this.bendRow + (knots - 2);
    this.residualCount = this.handRow + seen.hand.length;
    this.touchZMm = new Float64Array(seen.outline.length);
    this.handTouchZMm = new Float64Array(seen.hand.length);
    this.cauchyScale = new Float64Array(this.residualCount);
    this.cauchyScale.fill(OUTLINE_CAUCHY, this.rimRow, this.equationRow);
    if (seen.rim.length > 0) this.cauchyScale.fill(TURNED_CAUCHY, this.bendRow - edges - 2, this.bendRow - edges);
    for (let j = 1; j + 1 < knots; j++) {
      const unseen = frame.unseenKnots[j];
      this.cauchyScale[this.bendRow + j - 1] = unseen ? 0 : BEND_CAUCHY;
    }
  }

  /** The geometry at a list of parameters; null when it is impossible. Redraws the profile curve. */
  stateAt(parameters: Float64Array): ModelState | null {
    const heightMm = Math.exp(parameters[LOG_HEIGHT]);
    const baseEdgeMm = Math.exp(parameters[LOG_BASE_EDGE]);
    const topEdgeMm = Math.exp(parameters[LOG_TOP_EDGE]);
    if (!drawProfile(this.curve, this.profileShape(parameters))) return null;
    const { seen, frame } = this;
    const containerRotation = multiplyMatrices(rotationFromVector(this.axisTurn(parameters)), frame.containerRotation);
    return {
      camera: {
        focalPx: Math.exp(parameters[LOG_FOCAL]),
        centreXPx: seen.centrePx[0] + parameters[CENTRE_X],
        centreYPx: seen.centrePx[1] + parameters[CENTRE_Y],
        k1: parameters[RADIAL_K1],
      },
      rotation: multiplyMatrices(rotationFromVector(vectorAt(parameters, CARD_TURN)), frame.cardRotation),
      translationMm: vectorAt(parameters, CARD_SHIFT),
      containerRotation,
      baseCentreMm: vectorAt(parameters, BASE_CENTRE),
      axis: axisOf(containerRotation),
      heightMm,
      baseEdgeMm,
      topEdgeMm,
    };
  }

  profileShape(parameters: Float64Array): ProfileShape {
    return {
      heightMm: Math.exp(parameters[LOG_HEIGHT]),
      baseEdgeMm: Math.exp(parameters[LOG_BASE_EDGE]),
      topEdgeMm: Math.exp(parameters[LOG_TOP_EDGE]),
      wallMm: parameters.subarray(WALL),
      edgeShiftMm: parameters.subarray(WALL + this.frame.knots.knotShares.length),
    };
  }

  evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array | null): boolean {
    const state = this.stateAt(parameters);
    if (!state) return false;
    if (!this.cardRows(state, parameters, residuals, jacobian)) return false;
    if (!this.rimRows(state, parameters, residuals, jacobian)) return false;
    if (!this.outlineRows(state, parameters, residuals, jacobian)) return false;
    const axisByTurn = this.axisDerivatives(state, parameters);
    residuals.fill(0, this.equationRow, this.priorRow);
    arrangementEquations(
      this.seen.arrangement,
      this.seen.reference,
      this.seen.lowerSide,
      this.seen.standsAt,
      { baseCentreMm: state.baseCentreMm, axis: state.axis, axisByTurn },
      this.curve,
      state,
      new EquationRows(this.equationRow, residuals, jacobian, this.parameterCount),
    );
    this.priorRows(state, parameters, residuals, jacobian);
    return true;
  }

  private axisTurn(parameters: Float64Array): Vector3 {
    const m = this.frame.containerRotation;
    const [a, b] = [parameters[AXIS_TURN], parameters[AXIS_TURN + 1]];
    return [a * m[0] + b * m[1], a * m[3] + b * m[4], a * m[6] + b * m[7]];
  }

  private axisDerivatives(state: ModelState, parameters: Float64Array): [Vector3, Vector3] {
    const turns = this.turnDirections(parameters);
    return [cross(turns[0], state.axis), cross(turns[1], state.axis)];
  }

  /** Infinitesimal rotations (card frame) caused by the two axis parameters. */
  private turnDirections(parameters: Float64Array): [Vector3, Vector3] {
    const m = this.frame.containerRotation;
    const j = leftJacobian(this.axisTurn(parameters));
    return [multiply(j, [m[0], m[3], m[6]]), multiply(j, [m[1], m[4], m[7]])];
  }

  /** Card sides: pixel shift across the side that puts the sample's ray on the side's line. */
  private cardRows(
    state: ModelState,
    parameters: Float64Array,
    residuals: Float64Array,
    jacobian: Float64Array | null,
  ): boolean {
    const { seen } = this;
    const ray = new Float64Array(RAY_SIZE);
    const poseJacobian = leftJacobian(vectorAt(parameters, CARD_TURN));
    const size = 1 + parameters[CARD_SIZE];
    const bow = parameters[CARD_BOW];
    let row = 0;
    for (const [k, side] of seen.sides.entries()) {
      const along = sideDirection(k, seen.longSide);
      const out: Vector3 = [-along[1], along[0], 0];
      const half = (along[0] === 0 ? seen.reference.widthMm : seen.reference.heightMm) / 2;
      for (const [px, py] of side.pointsPx) {
        let shift = 0;
        let inPlane: Vector3 = [0, 0, 0];
        let arch = 0;
        let turned: Vector3 = [0, 0, 0];
        let normal: Vector3 = [0, 0, 0];
        let slope = 1;
        for (let round = 0; round < 3; round++) {
          if (!castRay(state.camera, px + shift * side.normal[0], py + shift * side.normal[1], ray)) return false;
          const distance = alongSideMm(ray, state, along, bow * arch);
          if (!Number.isFinite(distance)) return false;
          inPlane = add(scale(out, half * size), scale(along, distance));
          arch = 1 - (2 * inPlane[0]) ** 2 / seen.reference.widthMm ** 2 - 2 / 3;
          const archSlope = (-8 * inPlane[0] * along[0]) / seen.reference.widthMm ** 2;
          turned = multiply(state.rotation, [inPlane[0], inPlane[1], bow * arch]);
          const tangent = multiply(state.rotation, [along[0], along[1], bow * archSlope]);
          const point = add(turned, state.translationMm);
          normal = unit(cross(point, tangent));
          slope =
            (normal[0] * ray[2] + normal[1] * ray[4]) * side.normal[0] +
            (normal[0] * ray[3] + normal[1] * ray[5]) * side.normal[1];
          if (Math.abs(slope) < 1e-12) return false;
          shift -= (normal[0] * ray[0] + normal[1] * ray[1] + normal[2]) / slope;
        }
        residuals[row] = (shift + parameters[SIDE_HALO + k]) / side.sdPx;
        if (jacobian) {
          const depth = turned[2] + state.translationMm[2];
          const gain = 1 / (slope * depth * side.sdPx);
          const at = row * this.parameterCount;
          this.cameraColumns(jacobian, at, ray, normal, state.camera, px, py, shift, side.normal, depth, gain);
          poseColumns(jacobian, at, turned, normal, poseJacobian, gain);
          const rise = (-8 * bow * inPlane[0] * out[0] * half) / seen.reference.widthMm ** 2;
          const bySize = multiply(state.rotation, [out[0] * half, out[1] * half, rise]);
          jacobian[at + CARD_SIZE] = dot(normal, bySize) * gain;
          jacobian[at + CARD_BOW] = arch * dot(normal, multiply(state.rotation, [0, 0, 1])) * gain;
          jacobian[at + SIDE_HALO + k] = 1 / side.sdPx;
        }
        row++;
      }
    }
    return true;
  }

  /** Rim of a coin or disc: pixel shift along the outward normal that makes the ray graze it. */
  private rimRows(
    state: ModelState,
    parameters: Float64Array,
    residuals: Float64Array,
    jacobian: Float64Array | null,
  ): boolean {
    const { seen, coin } = this;
    if (seen.rim.length === 0) return true;
    coin.draw(parameters);
    const inCard: Solid = {
      solid: coin,
      toSolid: transpose(state.rotation),
      eye: scale(multiplyTransposed(state.rotation, state.translationMm), -1),
      rotation: UNTURNED,
      originMm: [0, 0, 0],
    };
    const grazing = new GrazingRay();
    const poseJacobian = leftJacobian(vectorAt(parameters, CARD_TURN));
    let rowStart = 0;
    const addColumn = (column: number, value: number) => {
      if (jacobian) jacobian[rowStart + column] += value;
    };
    for (let i = 0; i < seen.rim.length; i++) {
      const point = seen.rim[i];
      if (!grazing.graze(state.camera, inCard, point)) return false;
      const row = this.rimRow + i;
      rowStart = row * this.parameterCount;
      residuals[row] = (grazing.shiftPx + parameters[RIM_HALO]) / point.sdPx;
      const touched =
        jacobian && this.touchColumns(jacobian, row, state, inCard, grazing, poseJacobian, point, point.sdPx);
      if (!touched) continue;
      const { place, gain } = touched;
      const before = (1 - place.share) * gain;
      const after = place.share * gain;
      coin.traceVertex(parameters, place.vertex, before * place.radial, before * place.axial, addColumn);
      if (after > 0)
        coin.traceVertex(parameters, place.vertex + 1, after * place.radial, after * place.axial, addColumn);
      addColumn(RIM_HALO, 1 / point.sdPx);
    }
    return true;
  }

  /** Outline, found and placed: pixel shift along the outward normal that makes the ray graze the surface. */
  private outlineRows(
    state: ModelState,
    parameters: Float64Array,
    residuals: Float64Array,
    jacobian: Float64Array | null,
  ): boolean {
    const { seen, curve } = this;
    const found = seen.outline.length;
    const eye = eyeInContainer(state);
    if (eye[2] > 0 && eye[2] < state.heightMm && Math.hypot(eye[0], eye[1]) < curve.radiusMm[0]) return false;
    const container: Solid = {
      solid: curve,
      toSolid: containerFromCamera(state),
      eye,
      rotation: state.containerRotation,
      originMm: state.baseCentreMm,
    };
    const grazing = new GrazingRay();
    const poseJacobian = leftJacobian(vectorAt(parameters, CARD_TURN));
    const turns = this.turnDirections(parameters);
    let rowStart = 0;
    // one function for all rows: making one for each is a good part of their cost
    const addColumn = (column: number, value: number) => {
      if (jacobian) jacobian[rowStart + column] += value;
    };
    for (let i = 0; i < found + seen.hand.length; i++) {
      const isFound = i < found;
      const point = isFound ? seen.outline[i] : seen.hand[i - found];
      if (!grazing.graze(state.camera, container, point)) return false;
      const row = isFound ? this.outlineRow + i : this.handRow + i - found;
      rowStart = row * this.parameterCount;
      const sd = isFound ? point.sdPx * seen.outlineSdFactor : point.sdPx;
      residuals[row] = (grazing.shiftPx + (isFound ? parameters[OUTLINE_HALO] : 0)) / sd;
      if (isFound) this.touchZMm[i] = grazing.touchZMm(container);
      else this.handTouchZMm[i - found] = grazing.touchZMm(container);
      const touched = jacobian && this.touchColumns(jacobian, row, state, container, grazing, poseJacobian, point, sd);
      if (!touched) continue;
      const { place, gain, normalInCard, offset } = touched;
      const moment = cross(offset, normalInCard);
      for (let k = 0; k < 3; k++) addColumn(BASE_CENTRE + k, normalInCard[k] * gain);
      for (let k = 0; k < 2; k++) addColumn(AXIS_TURN + k, dot(turns[k], moment) * gain);
      const before = (1 - place.share) * gain;
      const after = place.share * gain;
      traceVertex(curve, state, place.vertex, before * place.radial, before * place.axial, addColumn);
      if (after > 0) traceVertex(curve, state, place.vertex + 1, after * place.radial, after * place.axial, addColumn);
      if (isFound) addColumn(OUTLINE_HALO, 1 / sd);
    }
    return true;
  }

  /** Columns of camera and pose for a ray that grazes a solid, and what the solid's own columns follow from. */
  private touchColumns(
    jacobian: Float64Array,
    row: number,
    state: ModelState,
    seen: Solid,
    grazing: GrazingRay,
    poseJacobian: Matrix3,
    point: OutlinePoint,
    sd: number,
  ): Touched | null {
    const place = grazing.touches ? grazing.touchedPlace(seen) : null;
    if (!place) return null;
    const { ray, shiftPx, t } = grazing;
    const normalPx = [point.normalX, point.normalY] as const;
    const normalInCard = multiply(seen.rotation, place.normal);
    const normal = multiply(state.rotation, normalInCard);
    const offset = multiply(seen.rotation, place.point);
    const turned = multiply(state.rotation, add(offset, seen.originMm));
    const slope =
      (normal[0] * ray[2] + normal[1] * ray[4]) * normalPx[0] + (normal[0] * ray[3] + normal[1] * ray[5]) * normalPx[1];
    if (!(slope > 1e-12)) return null;
    const gain = 1 / (slope * t * sd);
    const at = row * this.parameterCount;
    this.cameraColumns(jacobian, at, ray, normal, state.camera, point.xPx, point.yPx, shiftPx, normalPx, t, gain);
    poseColumns(jacobian, at, turned, normal, poseJacobian, gain);
    return { place, gain, normalInCard, offset };
  }

  private cameraColumns(
    jacobian: Float64Array,
    at: number,
    ray: Float64Array,
    normal: Vector3,
    camera: Camera,
    px: number,
    py: number,
    shift: number,
    normalPx: readonly [number, number],
    depth: number,
    gain: number,
  ): void {
    const byU = normal[0] * ray[2] + normal[1] * ray[4];
    const byV = normal[0] * ray[3] + normal[1] * ray[5];
    const u = px + shift * normalPx[0] - camera.centreXPx;
    const v = py + shift * normalPx[1] - camera.centreYPx;
    const weight = depth * gain;
    jacobian[at + LOG_FOCAL] = weight * (u * byU + v * byV);
    jacobian[at + CENTRE_X] = weight * byU;
    jacobian[at + CENTRE_Y] = weight * byV;
    jacobian[at + RADIAL_K1] = -weight * (normal[0] * ray[6] + normal[1] * ray[7]);
  }

  /** What else is known of the table a coin lies on. */
  private tableRows(
    { rotation }: ModelState,
    parameters: Float64Array,
    firstRow: number,
    residuals: Float64Array,
    jacobian: Float64Array | null,
  ): number {
    const { cardRotation } = this.frame;
    const turn = vectorAt(parameters, CARD_TURN);
    const faceOut: Vector3 = [rotation[2], rotation[5], rotation[8]];
    const startOut: Vector3 = [cardRotation[2], cardRotation[5], cardRotation[8]];
    const turning = leftJacobian(turn);
    const along = (direction: Vector3) => multiplyTransposed(turning, cross(faceOut, direction));
    const farSideDown = faceOut[1] > 0 ? 1 / FAR_SIDE_DOWN_SD : 0;
    const rows: readonly (readonly [residual: number, byTurn: Vector3])[] = [
      [dot(startOut, turn) / SPIN_SD_RAD, scale(startOut, 1 / SPIN_SD_RAD)],
      [faceOut[0] / SIDEWAYS_SD, scale(along([1, 0, 0]), 1 / SIDEWAYS_SD)],
      [faceOut[1] * farSideDown, scale(along([0, 1, 0]), farSideDown)],
    ];
    rows.forEach(([residual, byTurn], k) => {
      residuals[firstRow + k] = residual;
      jacobian?.set(byTurn, (firstRow + k) * this.parameterCount + CARD_TURN);
    });
    return firstRow + rows.length;
  }

  private priorRows(
    state: ModelState,
    parameters: Float64Array,
    residuals: Float64Array,
    jacobian: Float64Array | null,
  ): void {
    const { seen, frame } = this;
    let row = this.priorRow;
    const prior = (column: number, mean: number, sd: number) => {
      residuals[row] = (parameters[column] - mean) / sd;
      if (jacobian) jacobian[row * this.parameterCount + column] = 1 / sd;
      row++;
    };
    prior(LOG_FOCAL, Math.log(seen.focalPrior.focalPx), seen.focalPrior.relativeSd);
    prior(CENTRE_X, 0, seen.centreSdPx);
    prior(CENTRE_Y, 0, seen.centreSdPx);
    prior(RADIAL_K1, 0, K1_SD);
    prior(LOG_BASE_EDGE, Math.log(BASE_EDGE_MM), EDGE_RELATIVE_SD);
    prior(LOG_TOP_EDGE, Math.log(TOP_EDGE_MM), EDGE_RELATIVE_SD);
    prior(CARD_SIZE, 0, seen.reference.relativeSd);
    prior(CARD_BOW, 0, BOW_SD_MM);
    prior(OUTLINE_HALO, 0, seen.outlineHaloSdPx);
    const isRound = seen.rim.length > 0;
    if (isRound) {
      prior(RIM_HALO, 0, seen.rimHaloSdPx);
      prior(LOG_RIM_SIDE, 0, SIDE_LOG_SD);
      prior(LOG_RIM_ROUNDING, 0, ROUNDING_LOG_SD);
      prior(SIDE_HALO + 3, 0, 1);
    } else {
      seen.sides.forEach(({ haloSdPx }, k) => void prior(SIDE_HALO + k, 0, haloSdPx));
    }
    if (isRound) row = this.tableRows(state, parameters, row, residuals, jacobian);
    const { knotShares: shares, edgeShares } = frame.knots;
    for (let k = 0; k < edgeShares.length; k++) prior(WALL + shares.length + k, 0, EDGE_SHIFT_SD_MM);

    const height = Math.exp(parameters[LOG_HEIGHT]);
    const mean = 1 / (shares.length - 1);
    for (let j = 1; j + 1 < shares.length; j++) {
      const sd = (frame.unseenKnots[j] ? UNSEEN_BEND_SD_SHARE : BEND_SD_SHARE) * height;
      const before = mean / (shares[j] - shares[j - 1]);
      const after = mean / (shares[j + 1] - shares[j]);
      const at = row * this.parameterCount;
      const bend =
        before * parameters[WALL + j - 1] - (before + after) * parameters[WALL + j] + after * parameters[WALL + j + 1];
      residuals[row] = bend / sd;
      if (jacobian) {
        jacobian[at + WALL + j - 1] = before / sd;
        jacobian[at + WALL + j] = -(before + after) / sd;
        jacobian[at + WALL + j + 1] = after / sd;
        jacobian[at + LOG_HEIGHT] = -bend / sd;
      }
      row++;
    }
  }
}

/** Direction of side k along the card, from corner k to corner k + 1, in the card frame. Outward is its left. */
export function sideDirection(k: number, longSide: 0 | 1): Vector3 {
  const directions: Vector3[] = [
    [1, 0, 0],
    [0, -1, 0],
    [-1, 0, 0],
    [0, 1, 0],
  ];
  return directions[(k + (longSide === 0 ? 0 : 3)) % 4];
}

/** Coordinate along a side where the ray meets the card's face, which is bowed up by riseMm there, mm. */
function alongSideMm(ray: Float64Array, state: ModelState, along: Vector3, riseMm: number): number {
  const direction = multiplyTransposed(state.rotation, [ray[0], ray[1], 1]);
  const eye = scale(multiplyTransposed(state.rotation, state.translationMm), -1);
  const t = (riseMm - eye[2]) / direction[2];
  return t > 0 ? dot(add(eye, scale(direction, t)), along) : Number.NaN;
}

function poseColumns(
  jacobian: Float64Array,
  at: number,
  turned: Vector3,
  normal: Vector3,
  poseJacobian: Matrix3,
  gain: number,
): void {
  const moment = multiplyTransposed(poseJacobian, cross(turned, normal));
  for (let k = 0; k < 3; k++) {
    jacobian[at + CARD_TURN + k] = moment[k] * gain;
    jacobian[at + CARD_SHIFT + k] = normal[k] * gain;
  }
}

type Placement = Pick<ModelState, 'rotation' | 'translationMm' | 'containerRotation' | 'baseCentreMm'>;

/** Rotation part of containerFromCamera. */
export function containerFromCamera(state: Pick<ModelState, 'rotation' | 'containerRotation'>): number[] {
  return multiplyMatrices(transpose(state.containerRotation), transpose(state.rotation));
}

/** The camera's place in the container frame, mm. */
export function eyeInContainer(state: Placement): Vector3 {
  const inCard = scale(multiplyTransposed(state.rotation, state.translationMm), -1);
  return multiplyTransposed(state.containerRotation, subtract(inCard, state.baseCentreMm));
}

/** A point of the container frame in the camera frame, mm. */
export function cameraPoint(state: Placement, point: Vector3): Vector3 {
  const inCard = add(multiply(state.containerRotation, point), state.baseCentreMm);
  return add(multiply(state.rotation, inCard), state.translationMm);
}

function transpose(m: Matrix3): number[] {
  return [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];
}

function vectorAt(parameters: Float64Array, index: number): Vector3 {
  return [parameters[index], parameters[index + 1], parameters[index + 2]];
}
