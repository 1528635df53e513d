import { isOwnPiece, type Plan } from '../../sizing/plan.ts';
import type { Settings } from '../app/settings.ts';
import { longLengthText } from '../text/estimate-text.ts';
import type { Text } from '../text/text.ts';
import { nearestShade, YARN_SHADES } from './yarn-colours.ts';

/** The picture in one line: "Net carrier, 12 cells around, kelp, strap 120 cm". */
export function carrierWords(plan: Plan, colour: string, words: Text['picture'], wording: Settings): string {
  const cells = plan.zones[0]?.cells;
  const rounds = plan.parts.filter(({ name }) => !isOwnPiece(name)).at(-1)?.rounds;
  const stitches = rounds?.at(-1)?.stitches ?? 0;
  return [
    words.kinds[plan.carrier],
    cells ? words.cells(cells) : words.stitches(stitches),
    colourWords(colour, words),
    ...(plan.strap ? [words.strap(longLengthText(plan.strap.lengthMm, wording))] : []),
  ].join(', ');
}

/** The shade's name; "about kelp" is no name, so any other colour is said by the shade nearest to it. */
export function colourWords(colour: string, words: Text['picture']): string {
  const shade = nearestShade(colour);
  return YARN_SHADES[shade] === colour ? words.shades[shade] : `≈ ${words.shades[shade]}`;
}
