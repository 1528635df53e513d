import type { Choices } from '../choices.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import { type BandFit, type Round, type Step, startAfter } from '../plan.ts';
import { SAFE_OVER_CENTRE_OF_MASS } from './cover-height.ts';
import { centreOfMassZMm, type Meridian, meridianAt, widestRadiusBelowMm } from './meridian.ts';
import { evenestReadable, waysToShare } from './spread-out.ts';
import { FABRIC_GIVE, heightEstimate, PLANNED_GIVE } from './wall.ts';

export interface BandStart {
  readonly meridian: Meridian;
  readonly gauge: Gauge;
  readonly choices: Choices;
  /** Places the band is worked into: chain spaces of the mesh, or stitches of the wall. */
  readonly places: number;
  readonly into: 'space' | 'stitch';
  readonly rounds: number;
  readonly fromSMm: number;
  readonly firstNumber: number;
  /** How the round below is closed. */
  readonly closing: Round['closing'];
}

export interface Band {
  readonly rounds: readonly Round[];
  readonly fit: BandFit;
  readonly endSMm: number;
}

/** Equal numbers in all spaces are easier to work; they are kept while the band is at most this far off. */
const EQUAL_SPACES_TOLERANCE = 0.04;

/** Slack at the seat beyond which a band no longer holds by itself: common practice, no source. */
export const LOOSE_BAND = 0.1;

/** Height of the band: its rounds are single crochet. */
export function bandHeightMm(gauge: Gauge, rounds: number): number {
  return rounds * roundHeightMm(gauge, 'sc');
}

/** Firm rounds around the top, as many stitches as the container needs there and as lets it in. */
export function bandOf(start: BandStart): Band {
  const { meridian, gauge, rounds, fromSMm } = start;
  const stitches = bandStitches(start);
  const heightMm = roundHeightMm(gauge, 'sc');
  return {
    rounds: Array.from({ length: rounds }, (_, index): Round => {
      // Under a collar the spiral goes on.
      const isLast = index === rounds - 1 && start.choices.top !== 'drawstring';
      return {
        number: start.firstNumber + index,
        part: 'band',
        starts: index === 0 ? bandStarts(start) : 'next stitch',
        closing: 'spiral',
        stitch: 'sc',
        steps: [...bandSteps(start, stitches, index), ...(isLast ? [{ do: 'level', into: 'stitch' } as const] : [])],
        stitches,
        spaces: 0,
        widthMm: null,
        heightMm: heightEstimate(meridianAt(meridian, fromSMm + (index + 1) * heightMm).zMm, gauge),
        flatness: null,
        notes: [],
      };
    }),
    fit: bandFit(start, stitches),
    endSMm: fromSMm + bandHeightMm(gauge, rounds),
  };
}

/** Loops are closed by a slip stitch into the space that the band takes first. */
function bandStarts({ into, choices, closing }: BandStart): Round['starts'] {
  return into === 'space' && choices.mesh.kind === 'loop' ? 'closing space' : startAfter(closing);
}

/** What is said before the first round of where it starts. */
const START_CHARACTERS = 36;

function bandStitches(start: BandStart): number {
  const { places, into, choices } = start;
  if (into === 'stitch') return places;
  if (choices.band.stitchesPerSpace !== null) return places * choices.band.stitchesPerSpace;
  const { seatMm, passMm } = circumferences(start);
  const width = start.gauge.stitchWidthMm.value;
  const passing = passMm / (1 + PLANNED_GIVE) / width;
  const wanted = Math.max(seatMm / width, passing);
  const equal = Math.max(1, Math.round(wanted / places)) * places;
  if (equal >= passing && Math.abs(equal / wanted - 1) <= EQUAL_SPACES_TOLERANCE) return equal;
  return Math.max(places, Math.round(seatMm / width), Math.ceil(passing));
}

function bandSteps(start: BandStart, stitches: number, index: number): Step[] {
  if (index > 0 || start.into === 'stitch') return [{ do: 'stitch', stitch: 'sc', into: 'stitch', times: stitches }];
  return evenestReadable(
    waysToShare(stitches, start.places),
    (shares) =>
      shares.map((inSpace): Step[] => [
        { do: 'stitch', stitch: 'sc', into: 'space', times: 1 },
        ...(inSpace > 1 ? [{ do: 'stitch', stitch: 'sc', into: 'same', times: inSpace - 1 } as const] : []),
      ]),
    bandStarts(start) === 'closing space' ? START_CHARACTERS : 0,
  );
}

function circumferences({ meridian, gauge, choices, rounds, fromSMm }: BandStart): { seatMm: number; passMm: number } {
  const seat = meridianAt(meridian, fromSMm + bandHeightMm(gauge, rounds));
  return {
    seatMm: 2 * Math.PI * seat.rMm * (1 + choices.easeRatio),
    passMm: 2 * Math.PI * widestRadiusBelowMm(meridian, seat.zMm),
  };
}

function bandFit(start: BandStart, stitches: number): BandFit {
  const { meridian, gauge, rounds, fromSMm } = start;
  const relaxedMm = stitches * gauge.stitchWidthMm.value;
  const seat = meridianAt(meridian, fromSMm + bandHeightMm(gauge, rounds));
  const stretchToInsert = (2 * Math.PI * widestRadiusBelowMm(meridian, seat.zMm)) / relaxedMm - 1;
  const heightOverCentreOfMass = seat.zMm / centreOfMassZMm(meridian);
  return {
    stitches,
    relaxedCircumferenceMm: relaxedMm,
    stretchToInsert,
    goesIn: stretchToInsert <= FABRIC_GIVE,
    huggingStitches: Math.round((2 * Math.PI * seat.rMm) / gauge.stitchWidthMm.value),
    passingStitches: Math.ceil(
      (2 * Math.PI * widestRadiusBelowMm(meridian, seat.zMm)) / (1 + PLANNED_GIVE) / gauge.stitchWidthMm.value,
    ),
    slackAtSeat: 1 - (2 * Math.PI * seat.rMm) / relaxedMm,
    heightOverCentreOfMass,
    staysIn: heightOverCentreOfMass >= SAFE_OVER_CENTRE_OF_MASS - 0.05,
  };
}
