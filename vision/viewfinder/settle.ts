import type { Estimate } from '../estimate.ts';
import type { MeasureResult, ProblemCode } from '../measurement.ts';
import type { Hint } from './hint.ts';

/** Half of the 95 % interval, as a share of the size, under which a picture is good enough unless the maker says otherwise. */
export const GOOD_ENOUGH = 0.015;

/** How near a picture is to being taken by itself. */
export interface Settling {
  /** Widest diameter and height of the last look that could be believed; null before there is one. */
  readonly sizes: readonly [Estimate, Estimate] | null;
  /** Believed looks in a row that agree. */
  readonly agreeing: number;
  /** Smallest half-width so far, and how many agreeing looks have not made it smaller. */
  readonly best: number;
  readonly unchanged: number;
}

export const BEGINNING: Settling = { sizes: null, agreeing: 0, best: Number.POSITIVE_INFINITY, unchanged: 0 };

/** Looks that have to agree: one may be wrong by chance, two alike seldom are. */
const AGREEING_LOOKS = 2;
/** So many looks without gain, and waiting longer gains nothing. */
const UNCHANGED_LOOKS = 3;
/** A smaller gain than this is none. */
const GAIN = 0.95;
/** Sizes of one thing seen twice differ by less than this many standard uncertainties, in 19 of 20 cases. */
const AGREEING_SDS = 2;

/** What casts doubt on the sizes themselves, not only on their ±: never taken by itself. */
const DOUBTS: readonly ProblemCode[] = [
  'outline-uncertain',
  'maybe-not-round',
  'arrangement-uncertain',
  'card-or-lens-unusual',
  'which-end-is-base',
  'round-seen-two-ways',
];

/** The state after one more look. @param isMoving  whether the camera moved since the look before */
export function settle(before: Settling, result: MeasureResult, isMoving: boolean): Settling {
  if (result.outcome === 'refused' || result.warnings.some(({ code }) => DOUBTS.includes(code))) return BEGINNING;
  const { maxDiameterMm, heightMm } = result.measurement;
  const sizes = [maxDiameterMm, heightMm] as const;
  const agrees = before.sizes !== null && sizes.every((size, k) => areAlike(size, (before.sizes ?? sizes)[k]));
  if (isMoving || !agrees) return { ...BEGINNING, sizes, agreeing: isMoving ? 0 : 1, best: halfWidth(sizes) };
  const half = halfWidth(sizes);
  return {
    sizes,
    agreeing: before.agreeing + 1,
    best: Math.min(before.best, half),
    unchanged: half < GAIN * before.best ? 0 : before.unchanged + 1,
  };
}

/** 0 to 1; at 1 the picture is taken: sharp enough for the maker's wish, or as sharp as it gets with nothing left to change. */
export function readiness(
  { sizes, agreeing, best, unchanged }: Settling,
  hint: Hint | null,
  wish = GOOD_ENOUGH,
): number {
  if (!sizes) return 0;
  if (best <= wish) return Math.min(agreeing / AGREEING_LOOKS, 1);
  return hint === null ? Math.min(unchanged / UNCHANGED_LOOKS, 1) : 0;
}

function areAlike(a: Estimate, b: Estimate): boolean {
  return Math.abs(a.value - b.value) < AGREEING_SDS * Math.hypot(a.sd, b.sd);
}

/** Of the less certain of the two. */
export function halfWidth(sizes: readonly Estimate[]): number {
  return Math.max(...sizes.map(({ value, low95, high95 }) => (high95 - low95) / 2 / value));
}
