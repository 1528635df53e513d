/** A number with its standard uncertainty (k = 1), both in the unit named by the field that holds it. */
export interface Estimate {
  readonly value: number;
  readonly sd: number;
}

/** Standard uncertainty of a sum of independent errors. */
export function rootSumOfSquares(...sds: readonly number[]): number {
  return Math.hypot(...sds);
}
