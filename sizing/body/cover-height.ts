import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import type { CoverReason, Warning } from '../notes.ts';
import { refuseInconsistent } from '../refusal.ts';
import { centreOfMassZMm, type Meridian } from './meridian.ts';

export interface CoverHeight {
  readonly zMm: number;
  readonly reason: CoverReason;
  readonly warning: Warning | null;
}

/** A carrier hung lower than this over the centre of mass lets the container tip out: common practice, no source. */
export const SAFE_OVER_CENTRE_OF_MASS = 1.15;

/** Cover of a straight container, and the most that still leaves something to hold: common practice, no source. */
const STRAIGHT_SHARE = 0.75;
const LARGEST_SHARE = 0.88;

/** A body counts as ended where it is this much narrower than its widest place. */
const SHOULDER_SHARE = 0.96;

/**
 * Height the carrier reaches: typed, or to where the shoulder starts, but high enough over the full container's centre
 * of mass that it does not tip out, and low enough to leave the top free.
 */
export function coverHeight(container: Container, meridian: Meridian, choices: Choices): CoverHeight {
  const heightMm = meridian.heightMm;
  const leastMm = Math.min(SAFE_OVER_CENTRE_OF_MASS * centreOfMassZMm(meridian), LARGEST_SHARE * heightMm);
  if (choices.coverHeightMm !== null) return typedCover(choices.coverHeightMm, heightMm, leastMm);
  const shoulderMm = container.shoulderZMm?.value ?? narrowingZMm(meridian);
  const wantedMm = shoulderMm ?? STRAIGHT_SHARE * heightMm;
  if (wantedMm < leastMm) {
    return {
      zMm: leastMm,
      reason: { code: 'cover-above-low-shoulder', shoulderMm: wantedMm, coverMm: leastMm },
      warning: null,
    };
  }
  const mostMm = LARGEST_SHARE * heightMm;
  if (wantedMm > mostMm) {
    return { zMm: mostMm, reason: { code: 'cover-top-free', coverMm: mostMm }, warning: null };
  }
  const code = shoulderMm === null ? 'cover-straight' : 'cover-shoulder';
  return { zMm: wantedMm, reason: { code, coverMm: wantedMm }, warning: null };
}

function typedCover(zMm: number, heightMm: number, leastMm: number): CoverHeight {
  if (zMm > heightMm) {
    refuseInconsistent('choices.coverHeightMm', zMm, { why: 'cover-above-rim', coverMm: zMm, heightMm });
  }
  return {
    zMm,
    reason: { code: 'cover-chosen', coverMm: zMm },
    warning: zMm < leastMm ? { code: 'cover-low', coverMm: zMm, leastMm } : null,
  };
}

/** Where the body ends for good, when it does so clearly below the rim. */
function narrowingZMm(meridian: Meridian): number | null {
  const widest = Math.max(...meridian.points.map((point) => point.rMm));
  let last = 0;
  for (const point of meridian.points) if (point.rMm >= SHOULDER_SHARE * widest) last = point.zMm;
  return last < 0.93 * meridian.heightMm && last > 0.2 * meridian.heightMm ? last : null;
}
