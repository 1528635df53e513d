import type { ProblemCode } from '../measurement.ts';
import type { CardSighting } from '../sighting.ts';
import type { CardCandidate } from './find-card.ts';

export type CardChoice = { readonly card: CardSighting } | { readonly problem: ProblemCode };

/** Log-odds above which a candidate is taken for the card when no other is as good. */
const MIN_TOTAL = 0.8;
const MIN_LEAD = 0.5;
/** Above this it is a card even if there is another one: two bank cards measure alike. */
const SURE_TOTAL = 2;
/** Squared misfit of the proportions, in standard deviations of 1.5 %: ID-2, playing and trading cards lie beyond. */
const MAX_SHAPE_COST = 12;
/** Large enough for a millimetre to span more than a pixel. */
const MIN_WIDTH_PX = 100;
/** cos 66°. */
const MIN_COS_TILT = 0.4;

/** The card among the candidates, or why there is none to measure with. */
export function chooseCard(candidates: readonly CardCandidate[]): CardChoice {
  const best = candidates[0];
  if (!best || !isCard(best)) return { problem: 'no-card' };
  if (best.evidence.widthPx < MIN_WIDTH_PX) return { problem: 'card-too-small' };
  if (best.evidence.cosTilt < MIN_COS_TILT) return { problem: 'card-too-oblique' };
  return { card: best.card };
}

function isCard({ total, lead, evidence }: CardCandidate): boolean {
  if (evidence.shapeCost > MAX_SHAPE_COST) return false;
  return total >= SURE_TOTAL || (total >= MIN_TOTAL && lead >= MIN_LEAD);
}
