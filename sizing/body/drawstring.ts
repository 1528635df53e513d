import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { DrawstringPlan, Round, Step } from '../plan.ts';
import { type Meridian, meridianAt } from './meridian.ts';
import { evenestReadable, waysToShare } from './spread-out.ts';
import { cordStitchMm } from './strap.ts';
import { heightEstimate } from './wall.ts';

export interface DrawstringStart {
  readonly meridian: Meridian;
  readonly gauge: Gauge;
  /** Stitches of the band it stands on, and where that ends. */
  readonly stitches: number;
  readonly fromSMm: number;
  readonly firstNumber: number;
}

export interface Drawstring {
  /** Collar, holes and edge: worked on from the band. */
  readonly rounds: readonly Round[];
  readonly plan: DrawstringPlan;
  readonly endSMm: number;
}

/** Tied in a bow with a knot at each end: common practice, no source. */
const END_MM = 150;

/** A collar that would lie on more of a shoulder than this is too much cloth to draw together: common practice, no source. */
const LONGEST_COLLAR_MM = 60;

/** A neck begins where the shoulder has come this near to its narrowest, as a share of that. */
const NECK_SHARE = 1.05;

/**
 * A collar as wide as the band, so that the container goes in, as long as the shoulder it is drawn over; then a round of
 * holes, a round over them, and a cord to draw it together with.
 */
export function drawstringOf(start: DrawstringStart): Drawstring {
  const { meridian, gauge, stitches, fromSMm } = start;
  const roundMm = roundHeightMm(gauge, 'sc');
  const collar = Math.floor(shoulderMm(meridian, fromSMm) / roundMm);
  const cells = Math.floor(stitches / 2);
  const steps: (readonly Step[])[] = [
    ...Array.from({ length: collar }, () => [{ do: 'stitch', stitch: 'sc', into: 'stitch', times: stitches } as const]),
    shared(stitches, cells, (inRow) => [
      { do: 'stitch', stitch: 'sc', into: 'stitch', times: inRow },
      { do: 'chain', chains: 1 },
      { do: 'skip', place: 'stitch', count: 1 },
    ]),
    shared(stitches, cells, (inRow) => [
      { do: 'stitch', stitch: 'sc', into: 'stitch', times: inRow },
      { do: 'stitch', stitch: 'sc', into: 'space', times: 1 },
    ]),
  ];
  const rounds = steps.map((work, index): Round => {
    const isHoles = index === collar;
    return {
      number: start.firstNumber + index,
      part: 'band',
      starts: 'next stitch',
      closing: 'spiral',
      stitch: 'sc',
      steps: index === collar + 1 ? [...work, { do: 'level', into: 'stitch' }] : work,
      stitches: isHoles ? stitches - cells : stitches,
      spaces: isHoles ? cells : 0,
      widthMm: null,
      heightMm: heightEstimate(meridianAt(meridian, fromSMm + (index + 1) * roundMm).zMm, gauge),
      flatness: null,
      notes: isHoles ? [{ code: 'holes-for-cord' }] : [],
    };
  });
  const cordLengthMm = stitches * gauge.stitchWidthMm.value + 2 * END_MM;
  return {
    rounds,
    plan: {
      collarRounds: collar,
      holes: cells,
      holesRound: start.firstNumber + collar,
      cordLengthMm,
      stitches: Math.ceil(cordLengthMm / cordStitchMm(gauge)),
      endMm: END_MM,
    },
    endSMm: fromSMm + rounds.length * roundMm,
  };
}

/** The cord, a piece of its own. */
export function drawstringCord({ stitches }: DrawstringPlan, number: number): Round {
  return {
    number,
    part: 'drawstring',
    starts: 'next stitch',
    closing: 'cord',
    stitch: null,
    steps: [{ do: 'cord', stitches, pieces: 1 }],
    stitches,
    spaces: 0,
    widthMm: null,
    heightMm: null,
    flatness: null,
    notes: [],
  };
}

/** Holes as evenly as can be: with an odd count one has a stitch more before it. */
function shared(stitches: number, cells: number, unit: (inRow: number) => Step[]): Step[] {
  return evenestReadable(waysToShare(stitches - cells, cells), (shares) => shares.map(unit));
}

/** Along the container from here to where its neck begins; nothing where it does not narrow. */
function shoulderMm(meridian: Meridian, fromSMm: number): number {
  const above = meridian.points.filter(({ sMm }) => sMm > fromSMm);
  const narrowestMm = Math.min(...above.map(({ rMm }) => rMm));
  const neck = above.find(({ rMm }) => rMm <= narrowestMm * NECK_SHARE);
  if (!neck || neck.rMm > meridianAt(meridian, fromSMm).rMm * NARROWS) return 0;
  return Math.min(LONGEST_COLLAR_MM, neck.sMm - fromSMm);
}

/** A top that narrows by less has no shoulder. */
const NARROWS = 0.92;
