import type { Estimate } from '../../sizing/estimate.ts';

/** Three standard uncertainties of the difference: about 1 in 370 honest pairs lies further apart (normal distribution). */
const ASK_BEYOND_SDS = 3;

/** True when what a piece says and what was believed before differ by more than both can be wrong: then it is asked about. */
export function areApart(seen: Estimate, believed: Estimate): boolean {
  return Math.abs(seen.value - believed.value) > ASK_BEYOND_SDS * Math.hypot(seen.sd, believed.sd);
}
