import type { CornersPx } from '../geometry/frames.ts';
import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import { isCardCutOff } from './card-cut-off.ts';
import { type CardChoice, chooseCard } from './choose-card.ts';
import { type FindCardOptions, findCards } from './find-card.ts';

/** The corners of the card that somebody sees in the neighbourhood of a rectangle, photo frame; null when none is there. */
export type LookForCard = (rectanglePx: CornersPx) => CornersPx | null;

/** Rectangles that are looked at again, closer, when none is surely the card. */
const LOOKED_AT = 3;
/**
 * The reference card in the photo, refined, or why it cannot be measured with. When no rectangle is surely the card, the
 * likeliest are looked at closer: in the whole photo a card may be too small for the network to be sure of.
 */
export function cardInPhoto(cv: Cv, photo: Photo, options: FindCardOptions, lookForCard?: LookForCard): CardChoice {
  const candidates = findCards(cv, photo, options);
  const choice = chooseCard(candidates, photo);
  if ('card' in choice || choice.problem === 'card-too-small') return choice;
  for (const { card } of lookForCard ? candidates.slice(0, LOOKED_AT) : []) {
    const cornersPx = lookForCard?.(card.cornersPx);
    if (!cornersPx) continue;
    const closer = chooseCard(findCards(cv, photo, { ...options, hint: { cornersPx } }), photo);
    if ('card' in closer) return closer;
  }
  return choice.problem === 'no-card' && isCardCutOff(cv, photo, options) ? { problem: 'card-cut-off' } : choice;
}
