/** A measured number: best value, standard uncertainty (k = 1) and 95 % interval, all in the unit named by the field. */
export interface Estimate {
  readonly value: number;
  readonly sd: number;
  readonly low95: number;
  readonly high95: number;
}

/** 97.5 % point of the standard normal distribution. */
export const NORMAL_95 = 1.959964;

/** Estimate with a symmetric normal 95 % interval. */
export function estimate(value: number, sd: number): Estimate {
  return { value, sd, low95: value - NORMAL_95 * sd, high95: value + NORMAL_95 * sd };
}
