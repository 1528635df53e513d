import type { Tape } from '../keep/tape.ts';
import { TAPE_LIMITS } from '../sizes/tape-limits.ts';
import { useText } from '../text/text.ts';
import { LengthField } from '../ui/NumberField.tsx';

interface GirthProps {
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
}

/** What the tape says: the girth alone, or the height as well. */
export function Girth({ tape, onTape }: GirthProps) {
  const words = useText().stall;
  return (
    <fieldset className="stall__girth">
      <legend>{words.orType}</legend>
      <div className="fields">
        <LengthField
          metric="cm"
          label={words.around}
          value={tape.circumferenceMm}
          onChange={(circumferenceMm) => onTape({ ...tape, circumferenceMm })}
          {...TAPE_LIMITS.around}
        />
        <LengthField
          metric="cm"
          label={words.height}
          value={tape.heightMm}
          onChange={(heightMm) => onTape({ ...tape, heightMm })}
          {...TAPE_LIMITS.height}
        />
      </div>
    </fieldset>
  );
}
