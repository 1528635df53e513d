import { CONTAINER_LIMITS } from '../../sizing/container.ts';
import type { Tape } from '../keep/tape.ts';
import { useText } from '../text/text.ts';
import { LengthField } from '../ui/NumberField.tsx';

interface GirthProps {
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
}

/** What the tape says: the girth alone, or the height as well. */
export function Girth({ tape, onTape }: GirthProps) {
  const words = useText().stall;
  const [minAcross, maxAcross] = CONTAINER_LIMITS.diameterMm;
  return (
    <fieldset className="stall__girth">
      <legend>{words.orType}</legend>
      <div className="fields">
        <LengthField
          metric="cm"
          label={words.around}
          value={tape.circumferenceMm}
          onChange={(circumferenceMm) => onTape({ ...tape, circumferenceMm })}
          min={minAcross * Math.PI}
          max={maxAcross * Math.PI}
        />
        <LengthField
          metric="cm"
          label={words.height}
          value={tape.heightMm}
          onChange={(heightMm) => onTape({ ...tape, heightMm })}
          min={CONTAINER_LIMITS.heightMm[0]}
          max={CONTAINER_LIMITS.heightMm[1]}
        />
      </div>
    </fieldset>
  );
}
