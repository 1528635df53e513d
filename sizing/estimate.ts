/** A number with its standard uncertainty (k = 1), both in the unit named by the field that holds it. */
export interface Estimate {
  readonly value: number;
  readonly sd: number;
}

export function estimateOf(value: number, sd: number): Estimate {
  return { value, sd };
}

/** Estimate multiplied by an exact factor. */
export function scaled(estimate: Estimate, factor: number): Estimate {
  return { value: estimate.value * factor, sd: estimate.sd * Math.abs(factor) };
}

/** Standard uncertainty as a share of the value. */
export function relativeSd(estimate: Estimate): number {
  return estimate.sd / Math.abs(estimate.value);
}

/** Standard uncertainty of a sum of independent errors. */
export function rootSumOfSquares(...sds: readonly number[]): number {
  return Math.hypot(...sds);
}
