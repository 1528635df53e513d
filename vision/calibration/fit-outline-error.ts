import { NORMAL_95 } from '../estimate.ts';

/** What one outline showed, and how far its sizes were off. */
export interface OutlineCase {
  /** Each as in OutlineEvidence. */
  readonly stray: number;
  readonly contrast: number;
  readonly fade: number;
  /** Natural logarithm of measured over true, and the relative standard uncertainty of the fit alone. */
  readonly sizes: readonly { readonly error: number; readonly sd: number }[];
}

export interface OutlineErrorNumbers {
  /** Relative standard uncertainty where mask and edges agree and contrast is best; it and the next three: maximum
   * likelihood (errors after Student) over 149 generated pictures that the network had not seen. */
  readonly least: number;
  /** Growth of its logarithm with stray, and with contrast below the best. */
  readonly perStray: number;
  readonly perFaintness: number;
  /** Share of the mask's fade beyond the usual that is uncertainty. */
  readonly perFade: number;
  /** By how much a fit to found edges is more uncertain than it says. */
  readonly fitSdFactor: number;
}

/** Sharp masks of clear pictures fade over this share of the long side; contrast seldom is better than this. */
export const USUAL_FADE = 0.025;
export const BEST_CONTRAST = 0.9;

/** Relative standard uncertainty of the sizes that the finding of the outline leaves. */
export function outlineErrorSd(
  { stray, contrast, fade }: Pick<OutlineCase, 'stray' | 'contrast' | 'fade'>,
  { least, perStray, perFaintness, perFade }: OutlineErrorNumbers,
): number {
  const doubt = perStray * stray + perFaintness * Math.max(BEST_CONTRAST - contrast, 0);
  return Math.hypot(Math.min(least * Math.exp(doubt), 1), perFade * Math.max(fade - USUAL_FADE, 0));
}

/** Errors have Student's distribution with four degrees of freedom, scaled so that ± 1.96 sd holds 95 % of them. */
const STUDENT_95 = 2.776445;

/** Sum of the logarithms of the density of each error. Source of the density: NIST/SEMATECH e-Handbook, 1.3.6.6.4. */
export function logScore(cases: readonly OutlineCase[], numbers: OutlineErrorNumbers): number {
  return cases.reduce((sum, one) => {
    const finding = outlineErrorSd(one, numbers);
    return one.sizes.reduce((all, { error, sd }) => {
      const scale = (Math.hypot(numbers.fitSdFactor * sd, finding) * NORMAL_95) / STUDENT_95;
      // Γ(5/2) / (Γ(2) √(4π)) = 3/8
      return all + Math.log(3 / 8 / scale) - 2.5 * Math.log1p((error / scale) ** 2 / 4);
    }, sum);
  }, 0);
}

/**
 * The numbers in use with the `fitSdFactor` of greatest log score, found by golden section. The others stay as they were
 * fitted to generated pictures: fitted anew to these cases they score better, but leave more sizes silently wrong.
 */
export function fitOutlineError(cases: readonly OutlineCase[], inUse: OutlineErrorNumbers): OutlineErrorNumbers {
  const at = (log: number) => ({ ...inUse, fitSdFactor: Math.exp(log) });
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [Math.log(0.2), Math.log(5)];
  while (high - low > 1e-4) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
    if (logScore(cases, at(a)) > logScore(cases, at(b))) high = b;
    else low = a;
  }
  return at((low + high) / 2);
}
