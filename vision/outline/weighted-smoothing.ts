/**
 * Smooth curve through weighted values: minimises Σ w (z − y)² + stiffness · Σ (second difference of z)² + Σ pull · z².
 * Where weights are small the curve bridges the gap; with all weights 0 it is 0. Source: Whittaker's graduation (1923),
 * solved by a banded Cholesky factorisation.
 */
export function smoothWeighted(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  stiffness: number,
  pull = 1e-4,
): Float64Array {
  const n = values.length;
  const diagonal = new Float64Array(n);
  const first = new Float64Array(n);
  const second = new Float64Array(n);
  const z = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    diagonal[i] = weights[i] + pull;
    z[i] = weights[i] * values[i];
  }
  for (let i = 1; i + 1 < n; i++) {
    diagonal[i - 1] += stiffness;
    diagonal[i] += 4 * stiffness;
    diagonal[i + 1] += stiffness;
    first[i - 1] -= 2 * stiffness;
    first[i] -= 2 * stiffness;
    second[i - 1] += stiffness;
  }
  // in place: diagonal, first[i] = L(i+1, i), second[i] = L(i+2, i)
  for (let i = 0; i < n; i++) {
    diagonal[i] = Math.sqrt(diagonal[i]);
    first[i] /= diagonal[i];
    second[i] /= diagonal[i];
    if (i + 1 < n) {
      diagonal[i + 1] -= first[i] ** 2;
      first[i + 1] -= first[i] * second[i];
    }
    if (i + 2 < n) diagonal[i + 2] -= second[i] ** 2;
  }
  for (let i = 0; i < n; i++) {
    if (i >= 1) z[i] -= first[i - 1] * z[i - 1];
    if (i >= 2) z[i] -= second[i - 2] * z[i - 2];
    z[i] /= diagonal[i];
  }
  for (let i = n - 1; i >= 0; i--) {
    if (i + 1 < n) z[i] -= first[i] * z[i + 1];
    if (i + 2 < n) z[i] -= second[i] * z[i + 2];
    z[i] /= diagonal[i];
  }
  return z;
}
