import type { MeasureResult, ProblemCode } from '../../vision/measurement.ts';
import type { Text } from '../text/text.ts';

/** What to think of the drawing, in a word, and how loud. */
export interface PhotoVerdict {
  readonly kind: 'sure' | 'doubt' | 'refused';
  readonly says: keyof Text['check']['says'];
}

/** What these say is in a wider ±, and nothing on the photo is there to be put right. */
const ONLY_WIDER: readonly ProblemCode[] = [
  'typical-focal',
  'looks-cropped',
  'card-far-away',
  'round-far-away',
  'card-square-on',
  'base-not-visible',
];

/** Warnings that ask her to look at the photo again. */
export function doubtsOf(result: MeasureResult): readonly ProblemCode[] {
  return result.warnings.map(({ code }) => code).filter((code) => !ONLY_WIDER.includes(code));
}

export function verdictOnPhoto(result: MeasureResult): PhotoVerdict {
  if (result.outcome === 'refused') return { kind: 'refused', says: refusalSays(result.reason.code) };
  const doubts = doubtsOf(result);
  if (doubts.length === 0) return { kind: 'sure', says: 'right' };
  if (doubts.includes('hand-bump')) return { kind: 'doubt', says: 'bump' };
  const { doubt } = result.measurement;
  if (doubts.includes('outline-uncertain') && doubt) return { kind: 'doubt', says: doubt.at };
  if (doubts.includes('card-or-lens-unusual')) return { kind: 'doubt', says: 'card' };
  return { kind: 'doubt', says: 'outline' };
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
