import type { ProblemCode } from '../measurement.ts';
import type { Photo } from '../picture/photo.ts';
import { photoTrouble } from '../picture/photo-trouble.ts';
import type { CardSighting } from '../sighting.ts';
import type { CardCandidate } from './find-card.ts';

export type CardChoice = { readonly card: CardSighting } | { readonly problem: ProblemCode };

/** Log-odds above which a candidate is taken for the card when no other is as good. */
const MIN_TOTAL = 0.8;
const MIN_LEAD = 0.5;
/** Above this it is a card even if there is another one: two bank cards measure alike. */
const SURE_TOTAL = 2;
/** Squared misfit of the proportions, in standard deviations of about 1.5 %: ID-2, playing and trading cards lie beyond. */
const MAX_SHAPE_COST = 12;
/** Trading cards pass with less when little else is clear. */
const UNSURE_SHAPE_COST = 4;
/** Large enough for a millimetre to span more than a pixel. */
const MIN_WIDTH_PX = 100;

/** A side that is lost while the other three are seen: shares of a side. */
const LOST_STRAIGHT = 0.5;
const SEEN_STRAIGHT = 0.7;
const MUCH_GLARE = 0.25;

/**
 * The card among the candidates, or why there is none to measure with.
 * @param photo  lets the reason say more than "no card": too dark, blurred
 */
export function chooseCard(candidates: readonly CardCandidate[], photo?: Photo): CardChoice {
  const best = candidates[0];
  if (!best || !isCard(best)) {
    if (candidates.some(isLostInGlare)) return { problem: 'glare-on-card-edge' };
    return { problem: (photo && photoTrouble(photo)) ?? 'no-card' };
  }
  if (best.evidence.widthPx < MIN_WIDTH_PX) return { problem: 'card-too-small' };
  return { card: best.card };
}

/**
 * Just where the network sees a card, a rectangle of the card's proportions is one with less to show for it: soft light and
 * small pictures leave little of corners and edges. tests/vision/reference/choose-card.test.ts
 */
const EXPECTED_TOTAL = -2;
const EXPECTED_OFF = 0.06;

function isCard({ total, lead, evidence, offHint }: CardCandidate): boolean {
  if (evidence.shapeCost > MAX_SHAPE_COST) return false;
  if (offHint < EXPECTED_OFF && total >= EXPECTED_TOTAL && lead >= 0 && evidence.shapeCost < UNSURE_SHAPE_COST)
    return true;
  return total >= SURE_TOTAL || (total >= MIN_TOTAL && lead >= MIN_LEAD && evidence.shapeCost < UNSURE_SHAPE_COST);
}

/** A card but for one side that a lamp's mirror image covers. */
function isLostInGlare({ evidence }: CardCandidate): boolean {
  const { straight, glare, corners } = evidence;
  const lost = straight.findIndex((s, k) => s < LOST_STRAIGHT && glare[k] > MUCH_GLARE);
  if (lost < 0) return false;
  const othersSeen = straight.every((s, k) => k === lost || s >= SEEN_STRAIGHT);
  const rounded = [(lost + 2) % 4, (lost + 3) % 4].every((k) => corners[k] > 0.3);
  return othersSeen && rounded && evidence.shapeCost < MAX_SHAPE_COST;
}
