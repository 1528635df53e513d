/**
 * Probability that a standard normal variable is below z.
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 7.1.26 (|error of erf| <= 1.5e-7).
 */
export function normalBelow(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const polynomial = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const erf = 1 - polynomial * Math.exp(-x * x);
  return z >= 0 ? 0.5 * (1 + erf) : 0.5 * (1 - erf);
}

/** Probability that a normal variable lies between two bounds; with sd = 0 it is 0 or 1. */
export function normalBetween(mean: number, sd: number, low: number, high: number): number {
  if (high <= low) return 0;
  if (sd === 0) return mean >= low && mean <= high ? 1 : 0;
  return Math.max(0, normalBelow((high - mean) / sd) - normalBelow((low - mean) / sd));
}
