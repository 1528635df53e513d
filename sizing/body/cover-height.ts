import type { Choices } from '../choices.ts';
import type { Container } from '../container.ts';
import { refuseInconsistent } from '../refusal.ts';
import { centreOfMassZMm, type Meridian } from './meridian.ts';

export interface CoverHeight {
  readonly zMm: number;
  readonly reason: string;
  readonly warning: string | null;
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
      reason: `The shoulder starts at {${wantedMm} mm}, too low to hold a full container upright, so the carrier goes on to {${leastMm} mm}.`,
      warning: null,
    };
  }
  const mostMm = LARGEST_SHARE * heightMm;
  if (wantedMm > mostMm) {
    return {
      zMm: mostMm,
      reason: `The carrier ends at {${mostMm} mm}, so that the top stays free to hold and open.`,
      warning: null,
    };
  }
  const reason =
    shoulderMm === null
      ? `The walls have no shoulder, so the carrier ends near three quarters of the height, {${wantedMm} mm}.`
      : `The carrier ends near the shoulder, which starts at {${wantedMm} mm}.`;
  return { zMm: wantedMm, reason, warning: null };
}

function typedCover(zMm: number, heightMm: number, leastMm: number): CoverHeight {
  if (zMm > heightMm) {
    refuseInconsistent(
      'choices.coverHeightMm',
      zMm,
      `choices.coverHeightMm (${zMm} mm) is more than the container is high (${heightMm.toFixed(0)} mm).`,
    );
  }
  return {
    zMm,
    reason: `The carrier ends at {${zMm} mm}, as you chose.`,
    warning:
      zMm < leastMm
        ? `At {${zMm} mm} the carrier is low for a full container, which may tip out: {${leastMm} mm} or more is safer.`
        : null,
  };
}

/** Where the body ends for good, when it does so clearly below the rim. */
function narrowingZMm(meridian: Meridian): number | null {
  const widest = Math.max(...meridian.points.map((point) => point.rMm));
  let last = 0;
  for (const point of meridian.points) if (point.rMm >= SHOULDER_SHARE * widest) last = point.zMm;
  return last < 0.93 * meridian.heightMm && last > 0.2 * meridian.heightMm ? last : null;
}
