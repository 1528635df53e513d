/** The same sequence in every run (mulberry32), so that a photo measured twice gives the same sizes. */
export function seededUniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normal numbers. Source: Box and Muller (1958). */
export function seededNormal(seed: number): () => number {
  const uniform = seededUniform(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/**
 * Draws from a multivariate normal distribution: mean + L z, L Lᵀ the covariance. Source: JCGM 101:2008, 6.4.8.
 * @param covariance  row-major, positive semidefinite; a direction without variance stays at the mean
 */
export function multivariateNormal(
  mean: Float64Array,
  covariance: Float64Array,
  count: number,
  seed: number,
): Float64Array[] {
  const n = mean.length;
  const factor = lowerFactor(covariance, n);
  const normal = seededNormal(seed);
  const z = new Float64Array(n);
  return Array.from({ length: count }, () => {
    for (let i = 0; i < n; i++) z[i] = normal();
    return mean.map((centre, i) => {
      let sum = centre;
      for (let j = 0; j <= i; j++) sum += factor[i * n + j] * z[j];
      return sum;
    });
  });
}

/** Cholesky's factor; what rounding leaves negative on the diagonal counts as nought. */
function lowerFactor(covariance: Float64Array, n: number): Float64Array {
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i * n + j];
      for (let k = 0; k < j; k++) sum -= factor[i * n + k] * factor[j * n + k];
      if (i === j) factor[i * n + i] = Math.sqrt(Math.max(sum, 0));
      else factor[i * n + j] = factor[j * n + j] > 0 ? sum / factor[j * n + j] : 0;
    }
  }
  return factor;
}
