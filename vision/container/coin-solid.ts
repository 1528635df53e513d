import type { Polyline } from '../geometry/solid-of-revolution.ts';
import type { FlatReference } from '../reference/reference.ts';
import { CARD_SIZE, LOG_RIM_ROUNDING, LOG_RIM_SIDE } from './parameters.ts';

/** A sheet of paper is this thick; nothing is less. */
const LEAST_THICKNESS_MM = 0.05;
/**
 * Shares of the thickness: radius of the rounding between face and side, some tenths of a millimetre on struck coins
 * (from memory, no source); and how far down the side the edge on the near side was found, anywhere from the face to the
 * table. Sds of the natural logarithms.
 */
const ROUNDING_SHARE = 0.13;
const SIDE_SHARE = 0.45;
export const ROUNDING_LOG_SD = 0.5;
export const SIDE_LOG_SD = 0.6;
const COS_45 = Math.SQRT1_2;

/** Lower edge, upper end of the side, middle of the rounding, edge of the face; the face is at z = 0. */
const VERTICES = 4;

/**
 * A coin or disc as a solid of revolution about z of the card frame, whose outline is what is seen of its rim: on the far
 * side the edge of the face, on the near side a place on the side.
 */
export class CoinSolid implements Polyline {
  readonly count = VERTICES;
  readonly zMm = new Float64Array(VERTICES);
  readonly radiusMm = new Float64Array(VERTICES);
  private readonly nominalRadiusMm: number;
  private readonly thicknessMm: number;

  constructor(reference: FlatReference) {
    this.nominalRadiusMm = reference.widthMm / 2;
    this.thicknessMm = Math.max(reference.thicknessMm, LEAST_THICKNESS_MM);
  }

  /** Takes the shape that the parameters give it. */
  draw(parameters: Float64Array): void {
    const rounding = this.roundingMm(parameters);
    const radius = this.nominalRadiusMm * (1 + parameters[CARD_SIZE]);
    this.zMm.set([-rounding - this.sideMm(parameters), -rounding, -rounding * (1 - COS_45), 0]);
    this.radiusMm.set([radius, radius, radius - rounding * (1 - COS_45), radius - rounding]);
  }

  /** Adds `byRadius` ∂r + `byZ` ∂z of a vertex to the columns of the parameters. */
  traceVertex(
    parameters: Float64Array,
    vertex: number,
    byRadius: number,
    byZ: number,
    add: (column: number, value: number) => void,
  ): void {
    const rounding = this.roundingMm(parameters);
    add(CARD_SIZE, byRadius * this.nominalRadiusMm);
    if (vertex === 0) add(LOG_RIM_SIDE, -byZ * this.sideMm(parameters));
    if (vertex <= 1) add(LOG_RIM_ROUNDING, -byZ * rounding);
    if (vertex === 2) add(LOG_RIM_ROUNDING, -(byZ + byRadius) * rounding * (1 - COS_45));
    if (vertex === 3) add(LOG_RIM_ROUNDING, -byRadius * rounding);
  }

  private roundingMm(parameters: Float64Array): number {
    return this.thicknessMm * ROUNDING_SHARE * Math.exp(parameters[LOG_RIM_ROUNDING]);
  }

  private sideMm(parameters: Float64Array): number {
    return this.thicknessMm * SIDE_SHARE * Math.exp(parameters[LOG_RIM_SIDE]);
  }
}
