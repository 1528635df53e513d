import type { Container } from '../../sizing/container.ts';
import { UNCERTAIN_RELATIVE_SD } from '../../vision/container/finding-error.ts';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import { shareWithin } from '../../vision/geometry/polygon.ts';
import type { MeasureResult, ProblemCode } from '../../vision/measurement.ts';
import { type Job, measurementOf } from '../app/app-state.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { isRoundNamed } from '../reference/reference-named.ts';
import { tapeDisagreements, withTape } from '../sizes/tape-check.ts';
import type { Text } from '../text/text.ts';

type Measured = Extract<MeasureResult, { outcome: 'measured' }>;

/** What to think of the drawing, in a word, and how loud. */
export interface PhotoVerdict {
  readonly kind: 'sure' | 'doubt' | 'refused';
  readonly says: keyof Text['check']['says'];
}

/** What asks her to look again: the engine's warnings, and what her own hand and tape say beside it. */
export type Doubt = ProblemCode | keyof Text['check']['doubts'] | 'tape-disagrees';

/** What these say is in a wider ±, and nothing on the photo is there to be put right. */
const ONLY_WIDER: readonly ProblemCode[] = [
  'typical-focal',
  'looks-cropped',
  'card-far-away',
  'round-far-away',
  'card-square-on',
  'stands-on-something',
  'base-not-visible',
];

/** What the photos say: while a point is dragged only what it leads to, else all that is known. */
function photoSays(result: Measured, job: Job): Container {
  return measurementToContainer((result === job.result ? measurementOf(job) : null) ?? result.measurement);
}

/** What to look at again before going on with these sizes, the most telling first. */
export function doubtsOf(result: MeasureResult, job: Job): readonly Doubt[] {
  if (result.outcome === 'refused') return [];
  const photo = photoSays(result, job);
  const doubts: Doubt[] = result.warnings.map(({ code }) => code).filter((code) => !ONLY_WIDER.includes(code));
  if (isCardBesideEdges(result.measurement.card.cornersPx, job)) doubts.unshift('card-beside-edges');
  if (measurementOf(job) && tapeDisagreements(photo, job.tape).length > 0) doubts.unshift('tape-disagrees');
  const { maxDiameterMm, heightMm } = withTape(photo, job.tape);
  const isWide = [maxDiameterMm, heightMm].some(({ value, sd }) => sd > UNCERTAIN_RELATIVE_SD * value);
  if (isWide && doubts.length === 0) doubts.push('wide');
  return doubts;
}

export function verdictOnPhoto(result: MeasureResult, job: Job): PhotoVerdict {
  if (result.outcome === 'refused') return { kind: 'refused', says: refusalSays(result.reason.code) };
  const doubts = doubtsOf(result, job);
  if (doubts.length === 0) return { kind: 'sure', says: 'right' };
  return { kind: 'doubt', says: doubtSays(doubts, result.measurement.doubt?.at) };
}

function doubtSays(doubts: readonly Doubt[], at: PhotoVerdict['says'] | undefined): PhotoVerdict['says'] {
  if (doubts.includes('tape-disagrees')) return 'tape';
  if (doubts.includes('card-beside-edges')) return 'card';
  if (doubts.includes('hand-bump')) return 'bump';
  if (doubts.includes('outline-uncertain') && at) return at;
  if (doubts.includes('card-or-lens-unusual')) return 'card';
  return doubts.includes('wide') ? 'wide' : 'outline';
}

/** A hand further than this many of its own sds from an edge did not mean it, or the edge is another thing's. */
const BESIDE_SDS = 3;
/** More of it than not: the same thing on the table. */
const SAME_THING_SHARE = 0.5;

/**
 * Whether the card stands where a hand put it, no edges there to lay it on, and the engine had found edges of a card a
 * little beside.
 */
function isCardBesideEdges(cornersPx: CornersPx, { edits, past, future, cardPlaces }: Job): boolean {
  const { cornersPx: placed, placementSdPx, reference } = edits;
  if (!placed || placementSdPx === undefined || isRoundNamed(reference)) return false;
  if (farthestApart(cornersPx, placed) > 0) return false;
  const byHand = [...past, edits, ...future].flatMap((each) => (each.cornersPx ? [each.cornersPx] : []));
  const found = cardPlaces.filter((place) => byHand.every((hand) => farthestApart(place, hand) > 0));
  return found.some(
    (place) =>
      shareWithin(place, placed) > SAME_THING_SHARE && farthestApart(place, placed) > BESIDE_SDS * placementSdPx,
  );
}

/** How far the farthest corner of one lies from the nearest of the other, px; whichever corner comes first. */
function farthestApart(corners: CornersPx, others: CornersPx): number {
  return Math.max(...corners.map(([x, y]) => Math.min(...others.map(([u, v]) => Math.hypot(x - u, y - v)))));
}

function refusalSays(code: ProblemCode): PhotoVerdict['says'] {
  if (code === 'not-round' || code === 'too-flat') return 'notRound';
  if (code === 'no-card' || code === 'no-round-reference') return 'noCard';
  if (code === 'no-container' || code === 'two-containers') return 'whichOne';
  return 'notYet';
}

/** What leads on from a refusal, the likeliest first. */
export type WayOn = 'again' | 'tape' | 'standing' | 'lying' | 'put-right' | 'corners';

export function waysOn(code: ProblemCode): readonly WayOn[] {
  switch (code) {
    case 'not-round':
    case 'too-flat':
      return ['tape', 'again'];
    case 'stands-or-lies':
      return ['standing', 'lying'];
    case 'fit-failed':
    case 'too-uncertain':
    case 'base-hidden':
    case 'not-recognised':
      return ['put-right', 'tape'];
    case 'glare-on-card-edge':
    case 'card-too-oblique':
      return ['again', 'corners'];
    default:
      return ['again', 'tape'];
  }
}
