import type { Container } from '../../sizing/container.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Tape } from '../keep/tape.ts';
import { lengthText, valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';
import { type TapeCheck, tapeDisagreements } from './tape-check.ts';

interface TapeDoubtProps {
  /** As the photos alone have it. */
  readonly photo: Container;
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
  /** To where its numbers are typed. */
  readonly onReadAgain: () => void;
}

const TYPED = {
  widest: 'circumferenceMm',
  base: 'baseCircumferenceMm',
  height: 'heightMm',
} as const satisfies Record<TapeCheck['size'], keyof Tape>;

/** Photo and tape cannot both be right: which of them counts is hers to say. */
export function TapeDoubt({ photo, tape, onTape, onReadAgain }: TapeDoubtProps) {
  const words = useText().sizes;
  const wording = useSettings();
  return tapeDisagreements(photo, tape).map((check) => (
    <Note key={check.size} kind="warn">
      {words.apart.says(words.checkNames[check.size], valueText(check.tape, wording), lengthText(check.photo, wording))}
      <div className="row">
        <button type="button" className="button" onClick={onReadAgain}>
          {words.apart.readAgain}
        </button>
        <button type="button" className="button" onClick={() => onTape({ ...tape, [TYPED[check.size]]: null })}>
          {words.apart.leaveOut}
        </button>
      </div>
    </Note>
  ));
}
