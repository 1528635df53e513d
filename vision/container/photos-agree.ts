/** Sizes that one photo alone gives: ln(widest diameter), ln(height), and their covariance [[a, b], [b, c]]. */
export interface LogSizes {
  readonly values: readonly [number, number];
  readonly covariance: readonly [a: number, b: number, c: number];
}

/** Whether photos agree on what they measured. */
export interface Agreement {
  /** Σ (y − ȳ)ᵀ C⁻¹ (y − ȳ) about the mean weighted by C⁻¹. */
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  /** Chance that photos of one container disagree at least so much. */
  readonly probability: number;
  /** Photos left out; none when two disagree, for nobody knows which is wrong. */
  readonly leftOut: readonly number[];
}

/** Photos disagree when chance alone would make them differ so much once in a hundred times. */
export const DISAGREE_BELOW = 0.01;
const SIZES = 2;

/**
 * Tests whether photos agree. When they do not, those without which the rest agrees best are left out one after the
 * other, as long as the rest is the larger part; with no such rest all are kept and their disagreement stands.
 */
export function photosAgree(photos: readonly LogSizes[]): Agreement {
  const all = photos.map((_, k) => k);
  const whole = chiSquaredTest(photos);
  let kept = all;
  let test = whole;
  while (test.probability < DISAGREE_BELOW) {
    if (2 * (kept.length - 1) <= photos.length) return { ...whole, leftOut: [] };
    const without = kept.map((left) => {
      const rest = kept.filter((k) => k !== left);
      return { rest, test: chiSquaredTest(rest.map((k) => photos[k])) };
    });
    const best = without.reduce((a, b) => (b.test.chiSquared < a.test.chiSquared ? b : a));
    ({ rest: kept, test } = best);
  }
  return { ...test, leftOut: all.filter((k) => !kept.includes(k)) };
}

function chiSquaredTest(photos: readonly LogSizes[]): Omit<Agreement, 'leftOut'> {
  const weights = photos.map(({ covariance }) => inverse(covariance));
  const total = weights.reduce(([a, b, c], w) => [a + w[0], b + w[1], c + w[2]] as const, [0, 0, 0] as const);
  const sum = photos.reduce<readonly [number, number]>(
    ([x, y], { values }, k) => {
      const [u, v] = apply(weights[k], values);
      return [x + u, y + v];
    },
    [0, 0],
  );
  const mean = apply(inverse(total), sum);
  const chiSquared = photos.reduce((all, { values }, k) => {
    const off = [values[0] - mean[0], values[1] - mean[1]] as const;
    const [u, v] = apply(weights[k], off);
    return all + off[0] * u + off[1] * v;
  }, 0);
  const degreesOfFreedom = SIZES * (photos.length - 1);
  return { chiSquared, degreesOfFreedom, probability: chanceAbove(chiSquared, degreesOfFreedom) };
}

type Symmetric = readonly [a: number, b: number, c: number];

function inverse([a, b, c]: Symmetric): Symmetric {
  const determinant = a * c - b * b;
  return [c / determinant, -b / determinant, a / determinant];
}

function apply([a, b, c]: Symmetric, [x, y]: readonly [number, number]): readonly [number, number] {
  return [a * x + b * y, b * x + c * y];
}

/**
 * Upper tail of the chi-squared distribution for an even number of degrees of freedom: e^(−x/2) Σ (x/2)^k / k!, k < ν/2.
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.4.21.
 */
export function chanceAbove(chiSquared: number, degreesOfFreedom: number): number {
  let term = Math.exp(-chiSquared / 2);
  let sum = 0;
  for (let k = 1; k <= degreesOfFreedom / 2; k++) {
    sum += term;
    term *= chiSquared / 2 / k;
  }
  return degreesOfFreedom === 0 ? 1 : sum;
}
