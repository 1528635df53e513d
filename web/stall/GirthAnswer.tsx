import type { Tape } from '../keep/tape.ts';
import { containerFromTapeAlone } from '../sizes/tape-check.ts';
import { Answer, type Offered } from './Answer.tsx';
import { stallAnswer, stallAnswers } from './answer.ts';

/** Of many bottles; only for what a new piece would be, until a height is typed. */
const USUAL_HEIGHT_MM = 200;

/** A girth alone is enough: each piece is then asked at the height it was made for. */
export function GirthAnswer({ tape, ...rest }: Offered & { readonly tape: Tape }) {
  const container = containerFromTapeAlone({ ...tape, heightMm: tape.heightMm ?? USUAL_HEIGHT_MM });
  if (!container) return null;
  const answers =
    tape.heightMm !== null
      ? stallAnswers(rest.hanging, container)
      : stallAnswers(rest.hanging, container).map(({ item }) => {
          const sameHeight = { ...container, heightMm: { value: item.carrier.madeFor.heightMm, sd: 1 } };
          return { item, answer: stallAnswer(item.carrier, sameHeight) };
        });
  return <Answer {...rest} container={container} answers={answers} tape={tape} />;
}
