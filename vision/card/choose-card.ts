import type { ProblemCode } from '../measurement.ts';
import type { CardSighting } from '../sighting.ts';
import type { CardCandidate } from './find-card.ts';

export type CardChoice = { readonly card: CardSighting } | { readonly problem: ProblemCode };

/** Log-odds below which nothing is taken for the card. */
const MIN_TOTAL = 0;
/** A rival this close in evidence, elsewhere in the photo, leaves the choice open. */
const MIN_LEAD = 0.5;
/** Large enough for a millimetre to span more than a pixel. */
const MIN_WIDTH_PX = 100;
/** cos 66°. */
const MIN_COS_TILT = 0.4;

/** The card among the candidates, or why there is none to measure with. */
export function chooseCard(candidates: readonly CardCandidate[]): CardChoice {
  const best = candidates[0];
  if (!best) return { problem: 'no-card' };
  const { widthPx, cosTilt } = best.evidence;
  if (best.total < MIN_TOTAL || best.lead < MIN_LEAD) return { problem: 'no-card' };
  if (widthPx < MIN_WIDTH_PX) return { problem: 'card-too-small' };
  if (cosTilt < MIN_COS_TILT) return { problem: 'card-too-oblique' };
  return { card: best.card };
}
