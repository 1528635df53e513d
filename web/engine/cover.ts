/** How a card is covered, wherever a picture is drawn. */
export { coverCard, faceOf, grown } from './worker/cover.ts';
