import { longSideOf } from '../geometry/polygon.ts';
import type { MeasureResult, ProblemCode } from '../measurement.ts';

/** What to change while aiming: one thing at a time. */
export const HINTS = [
  'show-card',
  'card-further-in',
  'card-nearer',
  'card-aside',
  'turn-card',
  'closer',
  'back',
  'higher',
  'tilt',
  'light',
  'still',
  'show-container',
  'tap-one',
  'off-saucer',
  'calmer-ground',
  'tape',
] as const;
export type Hint = (typeof HINTS)[number];

/** What cures each refusal; null for those that no other aim cures. */
const CURES: Partial<Record<ProblemCode, Hint>> = {
  'no-card': 'show-card',
  'card-cut-off': 'card-further-in',
  'card-too-small': 'closer',
  'card-too-oblique': 'higher',
  'glare-on-card-edge': 'turn-card',
  blurred: 'still',
  'too-dark': 'light',
  'no-container': 'show-container',
  'container-cut-off': 'back',
  'two-containers': 'tap-one',
  'base-hidden': 'card-aside',
  'not-round': 'tape',
  'too-flat': 'tape',
  'which-arrangement': 'card-aside',
  'no-round-reference': 'show-card',
  'round-too-small': 'closer',
  'round-too-oblique': 'higher',
  'stands-or-lies': 'higher',
  'fit-failed': 'calmer-ground',
  'too-uncertain': 'calmer-ground',
};

/** Cures of what may just be seen badly. */
const UNCLEAR: readonly (Hint | null)[] = ['calmer-ground', 'show-card', 'show-container'];

/** What takes most off the ±, the most first; each is a cause that the engine names. */
const SHRINKS: readonly (readonly [ProblemCode, Hint])[] = [
  ['card-or-lens-unusual', 'card-further-in'],
  ['arrangement-uncertain', 'card-aside'],
  ['stands-on-something', 'off-saucer'],
  ['card-far-away', 'card-nearer'],
  ['round-far-away', 'card-nearer'],
  ['card-square-on', 'tilt'],
  ['round-seen-two-ways', 'higher'],
  ['outline-uncertain', 'calmer-ground'],
];

/** Smaller in the picture than this share of its long side, the outline spans too few pixels: it may fill most of it. */
const SMALL_SHARE = 0.35;

/**
 * The one thing to change in what is seen, or null when it is as good as it gets: what cures a refusal, else what takes most
 * off the ±. Darkness and movement are named only where they are what hinders.
 * @param frame  size of the picture, px; whether the camera moved a moment ago, and whether there is little light
 */
export function hintFor(
  result: MeasureResult,
  frame: { readonly widthPx: number; readonly heightPx: number; readonly isMoving: boolean; readonly isDark: boolean },
): Hint | null {
  if (result.outcome === 'refused') {
    const cure = CURES[result.reason.code] ?? null;
    if (!UNCLEAR.includes(cure)) return cure;
    return frame.isDark ? 'light' : frame.isMoving ? 'still' : cure;
  }
  const share = longSideOf(result.measurement.outlinePx) / Math.max(frame.widthPx, frame.heightPx);
  if (share < SMALL_SHARE) return 'closer';
  const codes = result.warnings.map(({ code }) => code);
  return SHRINKS.find(([code]) => codes.includes(code))?.[1] ?? (frame.isMoving ? 'still' : null);
}
