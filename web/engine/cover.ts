/** How a card is covered, wherever a picture is drawn. */
export { coverCard, grown } from './worker/cover.ts';
