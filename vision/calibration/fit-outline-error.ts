import { NORMAL_95 } from '../estimate.ts';

/** What one outline showed, and how far its sizes were off. */
export interface OutlineCase {
  /** As in OutlineEvidence. */
  readonly supported: number;
  readonly sizes: readonly SizeCase[];
}

export interface SizeCase {
  /** Natural logarithm of measured over true. */
  readonly error: number;
  /** Relative standard uncertainty of the fit alone. */
  readonly sd: number;
  /** As in OutlineEvidence. */
  readonly gap: number;
}

export interface OutlineErrorNumbers {
  /** By how much a fit to found edges is more uncertain than it says. */
  readonly fitSdFactor: number;
  /** Share of the gap between edges and mask that is uncertainty, for each unsupported share of the outline. */
  readonly perGap: number;
  /** Relative standard uncertainty of a size that is wholly supported, and the growth of its logarithm with the unsupported share. */
  readonly least: number;
  readonly perUnsupported: number;
}

/** Relative standard uncertainty of one size that the finding of the outline leaves. */
export function outlineErrorSd(
  { supported, gap }: { readonly supported: number; readonly gap: number },
  { perGap, least, perUnsupported }: OutlineErrorNumbers,
): number {
  const unsupported = 1 - supported;
  return Math.hypot(perGap * gap * unsupported, Math.min(least * Math.exp(perUnsupported * unsupported), 1));
}

/**
 * Most outlines are right and some are another thing's: errors have Student's distribution with this many degrees of
 * freedom, scaled so that ± 1.96 sd holds 95 % of them. Of 1, 1.25, 1.5, 2, 2.5, 3 and 4 it and 1.25 have the best log score
 * held back (667; 656 with 2.5, 643 with 4).
 */
const FREEDOM = 1.5;
/** t of 97.5 %, and Γ((ν + 1) / 2) / (Γ(ν / 2) √(νπ)), of so many degrees (both computed with SciPy's scipy.stats.t). */
const STUDENT_95 = 6.016663;
const STUDENT_PEAK = 0.340735;

/** Sum of the logarithms of the density of each error. Source of the density: NIST/SEMATECH e-Handbook, 1.3.6.6.4. */
export function logScore(cases: readonly OutlineCase[], numbers: OutlineErrorNumbers): number {
  return cases.reduce(
    (sum, { supported, sizes }) =>
      sizes.reduce((all, { error, sd, gap }) => {
        const finding = outlineErrorSd({ supported, gap }, numbers);
        const scale = (Math.hypot(numbers.fitSdFactor * sd, finding) * NORMAL_95) / STUDENT_95;
        const t = error / scale;
        return all + Math.log(STUDENT_PEAK / scale) - ((FREEDOM + 1) / 2) * Math.log1p((t * t) / FREEDOM);
      }, sum),
    0,
  );
}

const NAMES = ['fitSdFactor', 'perGap', 'least', 'perUnsupported'] as const;
/** Each number is looked for within this factor of the last. */
const FACTOR = 4;
/** A round that gains less than this in log score is the last. */
const GAIN = 1e-4;

/** The numbers of greatest log score, one after the other found by golden section, round after round. */
export function fitOutlineError(cases: readonly OutlineCase[], start: OutlineErrorNumbers): OutlineErrorNumbers {
  let numbers = start;
  for (let before = Number.NEGATIVE_INFINITY, now = logScore(cases, start); now > before + GAIN; ) {
    before = now;
    for (const name of NAMES) {
      const at = (log: number) => ({ ...numbers, [name]: Math.exp(log) });
      const middle = Math.log(numbers[name]);
      const best = largestAt((log) => logScore(cases, at(log)), middle - Math.log(FACTOR), middle + Math.log(FACTOR));
      numbers = at(best);
    }
    now = logScore(cases, numbers);
  }
  return numbers;
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Where a function with one maximum between two places has it (golden section). */
function largestAt(value: (at: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  while (high - low > 1e-4) {
    const [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    if (value(a) > value(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}
