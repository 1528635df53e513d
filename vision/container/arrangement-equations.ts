import { dot, type Matrix3, type Vector3 } from '../geometry/linear3.ts';
import type { Arrangement } from '../measurement.ts';
import type { FlatReference } from '../reference/reference.ts';
import { AXIS_TURN, BASE_CENTRE } from './parameters.ts';
import { type ProfileCurve, type ProfileShape, traceVertex } from './profile-curve.ts';

type EdgedHeight = Pick<ProfileShape, 'heightMm' | 'baseEdgeMm' | 'topEdgeMm'>;

/** Where the container is, in the card frame. */
export interface AxisPlacement {
  readonly baseCentreMm: Vector3;
  readonly axis: Vector3;
  /** ∂axis/∂(the two axis turns). */
  readonly axisByTurn: readonly [Vector3, Vector3];
}

/** Which side of the card stands on the table when it leans, as the outward direction of that side in the card frame. */
export type LowerSide = readonly [x: number, y: number];

/** The extra equations that an arrangement adds; at most this many rows. */
export const MAX_EQUATIONS = 3;

/** Tables, cards and bases are flat to about this angle. */
const TILT_SD_RAD = (0.4 * Math.PI) / 180;
/** Height of a base over the table, with its standard uncertainty. */
export interface StandingGap {
  readonly mm: number;
  readonly sdMm: number;
}
/** Cloth, crumbs. */
const ON_TABLE: StandingGap = { mm: 0, sdMm: 0.1 };
/** On a saucer, coaster or the like, which raise what they carry by some 2 to 8 mm (common practice, no source). */
const ON_SOMETHING: StandingGap = { mm: 5, sdMm: 2 };
/** Of 2,048 fresh pictures 98.8 % of what stands on the table was thought less likely to be raised (vision/network/README.md). */
const LIKELY = 0.5;

/** Height over the table when a container stands on something with this chance: mean and sd of the mixture of both. */
export function standingGap(raisedChance: number): StandingGap {
  if (raisedChance < LIKELY) return ON_TABLE;
  const variance =
    raisedChance * ON_SOMETHING.sdMm ** 2 +
    (1 - raisedChance) * ON_TABLE.sdMm ** 2 +
    raisedChance * (1 - raisedChance) * ON_SOMETHING.mm ** 2;
  return { mm: raisedChance * ON_SOMETHING.mm, sdMm: Math.sqrt(variance) };
}
/** Things that touch, touch to within this. */
const CONTACT_GAP_SD_MM = 0.15;

/**
 * Writes the equations of an arrangement as residual rows in standard uncertainties.
 * - standing: the base centre is on the table, or on what stands there, the axis is the table's normal
 * - lying: the container rests on the table in its lower and in its upper half
 * - card-on-front: the card's hidden face touches in the lower and in the upper half of what it covers
 * - card-leaning: the card's lower hidden edge is on the base plane, that edge is level, the hidden face touches once
 */
export function arrangementEquations(
  arrangement: Arrangement,
  reference: FlatReference,
  lowerSide: LowerSide | null,
  standsAt: StandingGap,
  placement: AxisPlacement,
  curve: ProfileCurve,
  shape: EdgedHeight,
  rows: EquationRows,
): void {
  const { heightMm } = shape;
  const { baseCentreMm: base, axis } = placement;
  const thickness = reference.thicknessMm;
  const contact = (towards: number, fromMm: number, toMm: number) =>
    contactRow(placement, curve, shape, towards, thickness, fromMm, toMm, rows);
  if (arrangement === 'standing') {
    const { mm, sdMm } = standsAt;
    rows.next((base[2] + thickness - mm) / sdMm, (add) => add(BASE_CENTRE + 2, 1 / sdMm));
    for (const k of [0, 1]) directionRow(placement, k === 0 ? [1, 0, 0] : [0, 1, 0], rows);
  } else if (arrangement === 'lying') {
    const middle = centreOfVolumeMm(curve);
    contact(1, 0, middle);
    contact(1, middle, heightMm);
  } else if (arrangement === 'card-on-front') {
    const [low, high] = coveredRangeMm(placement, reference, heightMm);
    const middle = (low + high) / 2;
    contact(-1, low, middle);
    contact(-1, middle, high);
  } else {
    const side: LowerSide = lowerSide ?? [0, -1];
    const half = side[0] === 0 ? reference.heightMm / 2 : reference.widthMm / 2;
    const edge: Vector3 = [side[0] * half, side[1] * half, -thickness];
    const gap = dot(axis, edge) - dot(axis, base);
    const distance = Math.hypot(edge[0] - base[0], edge[1] - base[1], edge[2] - base[2]);
    const sd = Math.hypot(ON_TABLE.sdMm, TILT_SD_RAD * distance);
    rows.next(gap / sd, (add) => {
      for (let i = 0; i < 3; i++) add(BASE_CENTRE + i, -axis[i] / sd);
      for (const k of [0, 1]) {
        const turned = placement.axisByTurn[k];
        add(AXIS_TURN + k, (dot(turned, edge) - dot(turned, base)) / sd);
      }
    });
    directionRow(placement, [-side[1], side[0], 0], rows);
    contact(-1, 0, Math.min(-2 * half * dot(axis, [side[0], side[1], 0]), heightMm));
  }
}

/** Takes residual rows one after the other. */
export class EquationRows {
  private row: number;
  constructor(
    firstRow: number,
    private readonly residuals: Float64Array,
    private readonly jacobian: Float64Array | null,
    private readonly columns: number,
  ) {
    this.row = firstRow;
  }

  next(residual: number, derivatives: (add: (column: number, value: number) => void) => void): void {
    const row = this.row++;
    this.residuals[row] = residual;
    const { jacobian, columns } = this;
    if (!jacobian) return;
    derivatives((column, value) => {
      jacobian[row * columns + column] += value;
    });
  }
}

/** The axis is at right angles to a direction of the card frame, to the flatness of tables. */
function directionRow(placement: AxisPlacement, direction: Vector3, rows: EquationRows): void {
  rows.next(dot(placement.axis, direction) / TILT_SD_RAD, (add) => {
    for (const k of [0, 1]) add(AXIS_TURN + k, dot(placement.axisByTurn[k], direction) / TILT_SD_RAD);
  });
}

/**
 * The least clearance between the plane of the card's hidden face and the surface, over fromMm ≤ z ≤ toMm, is nought.
 * @param towards 1 when the container is on the face's side of the plane (lying on the table), -1 when behind the card
 */
function contactRow(
  { baseCentreMm, axis, axisByTurn }: AxisPlacement,
  curve: ProfileCurve,
  shape: EdgedHeight,
  towards: number,
  thicknessMm: number,
  fromMm: number,
  toMm: number,
  rows: EquationRows,
): void {
  const across = towards * axis[2];
  const shrink = Math.sqrt(Math.max(1 - across * across, 1e-6));
  const clearanceAt = (v: number, share: number) => {
    const z = (1 - share) * curve.zMm[v] + share * (share > 0 ? curve.zMm[v + 1] : 0);
    const radius = (1 - share) * curve.radiusMm[v] + share * (share > 0 ? curve.radiusMm[v + 1] : 0);
    return { z, radius, gap: towards * (baseCentreMm[2] + thicknessMm) + across * z - shrink * radius };
  };
  let touch: { readonly v: number; readonly share: number } | null = null;
  let least = Number.POSITIVE_INFINITY;
  const consider = (v: number, share: number) => {
    const { gap } = clearanceAt(v, share);
    if (gap < least) {
      least = gap;
      touch = { v, share };
    }
  };
  for (let v = 0; v < curve.count; v++) {
    const z = curve.zMm[v];
    if (z >= fromMm && z <= toMm) consider(v, 0);
    if (v + 1 === curve.count) break;
    // the ends of the range lie between two vertices
    for (const end of [fromMm, toMm]) {
      if (end > z && end < curve.zMm[v + 1]) consider(v, (end - z) / (curve.zMm[v + 1] - z));
    }
  }
  contactEquation(touch, clearanceAt, { axisByTurn, across, shrink, towards }, curve, shape, rows);
}

function contactEquation(
  touch: { readonly v: number; readonly share: number } | null,
  clearanceAt: (v: number, share: number) => { readonly z: number; readonly radius: number; readonly gap: number },
  plane: {
    readonly axisByTurn: readonly [Vector3, Vector3];
    readonly across: number;
    readonly shrink: number;
    readonly towards: number;
  },
  curve: ProfileCurve,
  shape: EdgedHeight,
  rows: EquationRows,
): void {
  if (!touch) {
    rows.next(0, () => {});
    return;
  }
  const { v, share } = touch;
  const { z, radius, gap } = clearanceAt(v, share);
  const { axisByTurn, across, shrink, towards } = plane;
  const w = 1 / CONTACT_GAP_SD_MM;
  rows.next(gap * w, (add) => {
    add(BASE_CENTRE + 2, w * towards);
    for (const k of [0, 1]) {
      add(AXIS_TURN + k, w * towards * axisByTurn[k][2] * (z + (across / shrink) * radius));
    }
    if (share === 0) {
      traceVertex(curve, shape, v, -w * shrink, w * across, add);
      return;
    }
    // at the end of the range the height is given and the radius moves along the piece
    const slope = (curve.radiusMm[v + 1] - curve.radiusMm[v]) / (curve.zMm[v + 1] - curve.zMm[v]);
    traceVertex(curve, shape, v, -w * shrink * (1 - share), w * shrink * slope * (1 - share), add);
    traceVertex(curve, shape, v + 1, -w * shrink * share, w * shrink * slope * share, add);
  });
}

/** Stretch of the axis beside the card. */
function coveredRangeMm(
  { baseCentreMm, axis }: AxisPlacement,
  reference: FlatReference,
  heightMm: number,
): readonly [number, number] {
  const reach = (Math.abs(axis[0]) * reference.widthMm + Math.abs(axis[1]) * reference.heightMm) / 2;
  const middle = -dot(axis, baseCentreMm);
  return [Math.max(middle - reach, 0), Math.min(middle + reach, heightMm)];
}

/** A container on its side rests on the two places either side of its centre of mass; for an even filling. */
function centreOfVolumeMm({ count, zMm, radiusMm }: ProfileCurve): number {
  let volume = 0;
  let moment = 0;
  for (let v = 0; v + 1 < count; v++) {
    const slice = (zMm[v + 1] - zMm[v]) * (radiusMm[v] + radiusMm[v + 1]) ** 2;
    volume += slice;
    moment += (slice * (zMm[v] + zMm[v + 1])) / 2;
  }
  return moment / volume;
}

/** Rotation matrix whose third column is the axis, for the container frame seen from the card frame. */
export function axisOf(rotation: Matrix3): Vector3 {
  return [rotation[2], rotation[5], rotation[8]];
}
