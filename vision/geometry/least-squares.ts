/**
 * A non-linear least-squares problem: minimise Σ ρ_i(residual_i²), every residual already divided by its standard
 * uncertainty. Priors are residual rows like any other.
 */
export interface LeastSquaresProblem {
  readonly parameterCount: number;
  readonly residualCount: number;
  /**
   * Fills `residuals`, and `jacobian` (row-major, residualCount × parameterCount, zeroed by the caller) when given.
   * @returns false when the model cannot be evaluated at these parameters; the step is then shortened.
   */
  evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array | null): boolean;
  /** Cauchy scale of row i in standard uncertainties; 0 or a missing list means plain squares. */
  readonly cauchyScale?: Float64Array;
  /** Columns from ≤ i < to share rows with few others of their kind, near neighbours mostly: solved quicker when told. */
  readonly neighbourly?: { readonly from: number; readonly to: number };
}

export interface LeastSquaresOptions {
  readonly maxIterations?: number;
  /** Stop when an accepted step lowers the cost by less than this share. */
  readonly relativeTolerance?: number;
  /** First damping, relative to the diagonal of the information matrix. */
  readonly damping?: number;
}

export interface LeastSquaresFit {
  readonly parameters: Float64Array;
  readonly residuals: Float64Array;
  /** Σ ρ(r²): for plain squares the χ². */
  readonly cost: number;
  /** Row-major, at the solution. */
  readonly jacobian: Float64Array;
  /** Robust weight of each row at the solution, 1 for plain squares. */
  readonly weights: Float64Array;
  readonly iterations: number;
  readonly converged: boolean;
}

const MAX_DAMPING = 1e14;
/** A step that fails and promised less than this share of the tolerance ends the search. */
const HARDLY = 0.1;

/**
 * Levenberg–Marquardt with Marquardt's diagonal scaling and Nielsen's damping schedule, iteratively reweighted for
 * rows with a Cauchy scale. Rows may be sparse: zeros are skipped when the normal equations are built.
 * Source: Madsen, Nielsen, Tingleff, Methods for Non-Linear Least Squares Problems (2004), algorithm 3.16;
 * tests/published/solver-nist-strd.test.ts.
 * @returns null when the problem cannot be evaluated at the start.
 */
export function leastSquares(
  problem: LeastSquaresProblem,
  start: ArrayLike<number>,
  { maxIterations = 50, relativeTolerance = 1e-8, damping = 1e-3 }: LeastSquaresOptions = {},
): LeastSquaresFit | null {
  const n = problem.parameterCount;
  const m = problem.residualCount;
  let parameters = Float64Array.from(start);
  let residuals = new Float64Array(m);
  let trialParameters = new Float64Array(n);
  let trialResiduals = new Float64Array(m);
  let jacobian = new Float64Array(m * n);
  let trialJacobian = new Float64Array(m * n);
  const order = eliminationOrder(n, problem.neighbourly);
  const firstFilled = new Int32Array(n);
  const weights = new Float64Array(m).fill(1);
  const information = new Float64Array(n * n);
  const damped = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  const orderedGradient = new Float64Array(n);
  const step = new Float64Array(n);
  const scaling = new Float64Array(n);

  if (!problem.evaluate(parameters, residuals, jacobian)) return null;
  let cost = robustCost(residuals, problem.cauchyScale);
  if (!Number.isFinite(cost)) return null;
  let lambda = damping;
  let growth = 2;
  let converged = false;
  let iterations = 0;

  while (iterations < maxIterations && !converged) {
    iterations++;
    robustWeights(residuals, problem.cauchyScale, weights);
    normalEquations(jacobian, residuals, weights, n, information, gradient);
    for (let i = 0; i < n; i++) scaling[i] = Math.max(scaling[i] * 0.1, information[i * n + i], 1e-30);

    let accepted = false;
    while (!accepted && lambda < MAX_DAMPING) {
      for (let i = 0; i < n; i++) {
        const row = order[i] * n;
        firstFilled[i] = i;
        for (let j = i - 1; j >= 0; j--) {
          const value = information[row + order[j]];
          damped[i * n + j] = value;
          if (value !== 0) firstFilled[i] = j;
        }
        damped[i * n + i] = information[row + order[i]] + lambda * scaling[order[i]];
        orderedGradient[i] = gradient[order[i]];
      }
      const solvable = choleskyInPlace(damped, n, firstFilled);
      let trialCost = Number.POSITIVE_INFINITY;
      let predicted = 0;
      if (solvable) {
        solveCholesky(damped, orderedGradient, step, n);
        for (let k = 0; k < n; k++) {
          const i = order[k];
          trialParameters[i] = parameters[i] - step[k];
          predicted += step[k] * (lambda * scaling[i] * step[k] + gradient[i]);
        }
        // most steps are taken, and residuals and Jacobian share nearly all of their work
        trialJacobian.fill(0);
        if (problem.evaluate(trialParameters, trialResiduals, trialJacobian)) {
          trialCost = robustCost(trialResiduals, problem.cauchyScale);
        }
      }
      const noise = 1e-14 * cost;
      if (trialCost < cost || (trialCost <= cost + noise && predicted <= noise)) {
        const gain = predicted > 0 ? (cost - trialCost) / predicted : 1;
        converged = cost - trialCost <= relativeTolerance * cost && gain > 1e-3;
        [parameters, trialParameters] = [trialParameters, parameters];
        [residuals, trialResiduals] = [trialResiduals, residuals];
        [jacobian, trialJacobian] = [trialJacobian, jacobian];
        cost = trialCost;
        lambda = Math.max(lambda * Math.max(1 / 9, 1 - (2 * gain - 1) ** 3), 1e-15);
        growth = 2;
        accepted = true;
      } else {
        // smaller steps promise less still
        if (solvable && predicted < HARDLY * relativeTolerance * cost) break;
        lambda *= growth;
        growth *= 2;
      }
    }
    if (!accepted) converged = true;
  }
  // leaves whatever the problem remembers of its last evaluation at the solution
  problem.evaluate(parameters, trialResiduals, null);
  robustWeights(residuals, problem.cauchyScale, weights);
  return { parameters, residuals, cost, jacobian, weights, iterations, converged };
}

/** Jᵀ W J of a fit (row-major, symmetric): the information matrix in the units of the parameters. */
export function informationMatrix(fit: LeastSquaresFit, rowScale?: Float64Array): Float64Array {
  const n = fit.parameters.length;
  const information = new Float64Array(n * n);
  const weights = rowScale ? fit.weights.map((w, i) => w * rowScale[i]) : fit.weights;
  normalEquations(fit.jacobian, fit.residuals, weights, n, information, new Float64Array(n));
  return information;
}

/**
 * Inverse of a symmetric positive definite matrix (row-major n × n).
 * @returns null when it is singular to working precision.
 */
export function invertSymmetric(matrix: Float64Array, n: number): Float64Array | null {
  const scales = new Float64Array(n);
  const scaled = new Float64Array(n * n);
  for (let i = 0; i < n; i++) scales[i] = 1 / Math.sqrt(Math.max(matrix[i * n + i], 1e-300));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) scaled[i * n + j] = matrix[i * n + j] * scales[i] * scales[j];
  }
  if (!choleskyInPlace(scaled, n)) return null;
  const inverse = new Float64Array(n * n);
  const unitVector = new Float64Array(n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unitVector.fill(0);
    unitVector[j] = scales[j];
    solveCholesky(scaled, unitVector, column, n);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i] * scales[i];
  }
  return inverse;
}

/** Σ ρ(r²) with ρ(x) = c² ln(1 + x / c²). */
function robustCost(residuals: Float64Array, cauchyScale?: Float64Array): number {
  let cost = 0;
  for (let i = 0; i < residuals.length; i++) {
    const square = residuals[i] * residuals[i];
    const c = cauchyScale ? cauchyScale[i] : 0;
    cost += c > 0 ? c * c * Math.log1p(square / (c * c)) : square;
  }
  return cost;
}

function robustWeights(residuals: Float64Array, cauchyScale: Float64Array | undefined, weights: Float64Array): void {
  if (!cauchyScale) return;
  for (let i = 0; i < residuals.length; i++) {
    const c = cauchyScale[i];
    weights[i] = c > 0 ? 1 / (1 + (residuals[i] * residuals[i]) / (c * c)) : 1;
  }
}

function normalEquations(
  jacobian: Float64Array,
  residuals: Float64Array,
  weights: Float64Array,
  n: number,
  information: Float64Array,
  gradient: Float64Array,
): void {
  information.fill(0);
  gradient.fill(0);
  const columns = new Int32Array(n);
  for (let row = 0; row < residuals.length; row++) {
    const offset = row * n;
    let count = 0;
    for (let j = 0; j < n; j++) if (jacobian[offset + j] !== 0) columns[count++] = j;
    for (let a = 0; a < count; a++) {
      const i = columns[a];
      const weighted = weights[row] * jacobian[offset + i];
      gradient[i] += weighted * residuals[row];
      const target = i * n;
      for (let b = 0; b <= a; b++) information[target + columns[b]] += weighted * jacobian[offset + columns[b]];
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) information[j * n + i] = information[i * n + j];
}

/** Neighbourly columns first: eliminating them fills in little, while any other column is shared by all rows. */
function eliminationOrder(n: number, neighbourly = { from: 0, to: 0 }): Int32Array {
  const { from, to } = neighbourly;
  const inside = to - from;
  return Int32Array.from({ length: n }, (_, k) => (k < inside ? from + k : k < to ? k - inside : k));
}

/**
 * Lower Cholesky factor in place (the upper triangle is left alone), row by row; the factor has no more entries left of
 * a row's first one than the matrix. False when not positive definite.
 */
function choleskyInPlace(a: Float64Array, n: number, firstFilled = new Int32Array(n)): boolean {
  for (let i = 0; i < n; i++) {
    const rowI = i * n;
    const firstI = firstFilled[i];
    let diagonal = a[rowI + i];
    const whole = Math.abs(diagonal);
    for (let j = firstI; j < i; j++) {
      const rowJ = j * n;
      let sum = a[rowI + j];
      for (let k = Math.max(firstI, firstFilled[j]); k < j; k++) sum -= a[rowI + k] * a[rowJ + k];
      const entry = sum / a[rowJ + j];
      a[rowI + j] = entry;
      diagonal -= entry * entry;
    }
    if (!(diagonal > 1e-13 * whole) || diagonal <= 0) return false;
    a[rowI + i] = Math.sqrt(diagonal);
  }
  return true;
}

function solveCholesky(factor: Float64Array, right: Float64Array, solution: Float64Array, n: number): void {
  for (let i = 0; i < n; i++) {
    let sum = right[i];
    for (let k = 0; k < i; k++) sum -= factor[i * n + k] * solution[k];
    solution[i] = sum / factor[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = solution[i];
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i] * solution[k];
    solution[i] = sum / factor[i * n + i];
  }
}
