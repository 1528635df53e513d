/**
 * Standard deviation of the mean of a row of residuals whose neighbours err alike (scallops): the autocovariances are
 * summed until they first turn negative.
 * Source: variance of the mean of a stationary series, e.g. Priestley, Spectral Analysis and Time Series (1981), 5.3.
 * @param weights  0 leaves a residual out
 */
export function sdOfMean(residuals: Float64Array, weights: Float64Array): number {
  const n = residuals.length;
  const used = weights.reduce((sum, w) => sum + (w > 0 ? 1 : 0), 0);
  if (used < 4) return Number.POSITIVE_INFINITY;
  const value = (i: number): number => (weights[i % n] > 0 ? residuals[i % n] : 0);
  let sum = 0;
  for (let lag = 0; lag < n / 4; lag++) {
    let covariance = 0;
    for (let i = 0; i < n; i++) covariance += value(i) * value(i + lag);
    covariance /= used;
    if (covariance <= 0) break;
    sum += lag === 0 ? covariance : 2 * covariance;
  }
  return Math.sqrt(sum / used);
}
