import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import { isCardCutOff } from './card-cut-off.ts';
import { type CardChoice, chooseCard } from './choose-card.ts';
import { type FindCardOptions, findCards } from './find-card.ts';

/** The reference card in the photo, refined, or why it cannot be measured with. */
export function cardInPhoto(cv: Cv, photo: Photo, options: FindCardOptions): CardChoice {
  const choice = chooseCard(findCards(cv, photo, options), photo);
  if ('problem' in choice && choice.problem === 'no-card' && isCardCutOff(cv, photo, options)) {
    return { problem: 'card-cut-off' };
  }
  return choice;
}
