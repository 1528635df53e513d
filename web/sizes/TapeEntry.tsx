import { type FormEvent, useId, useState } from 'react';
import type { Tape } from '../keep/records.ts';
import { useText } from '../text/text.ts';
import { LengthField } from '../ui/NumberField.tsx';
import './sizes.css';
import { TAPE_LIMITS } from './tape-limits.ts';

interface TapeEntryProps {
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
  /** Widest place and height are there: go on with them. */
  readonly onUse: () => void;
}

const WAYS = ['around', 'across'] as const;

/** No photo: two numbers from a tape, a third for a container that is narrower at the base. */
export function TapeEntry({ tape, onTape, onUse }: TapeEntryProps) {
  const words = useText().sizes.entry;
  const wayId = useId();
  const [way, setWay] = useState<(typeof WAYS)[number]>('around');
  const [asked, setAsked] = useState(false);
  const complete = tape.circumferenceMm !== null && tape.heightMm !== null;
  const perCircumference = way === 'around' ? 1 : 1 / Math.PI;
  const shown = (circumferenceMm: number | null) =>
    circumferenceMm === null ? null : circumferenceMm * perCircumference;
  const kept = (typedMm: number | null) => (typedMm === null ? null : typedMm / perCircumference);
  const use = (event: FormEvent) => {
    event.preventDefault();
    if (complete) onUse();
    else setAsked(true);
  };
  return (
    <form className="stack" aria-label={words.title} onSubmit={use}>
      <p className="quiet">{words.lead}</p>
      <fieldset className="segments">
        <legend>{words.how}</legend>
        {WAYS.map((each) => (
          <label key={each}>
            <input type="radio" name={`${wayId}-way`} checked={way === each} onChange={() => setWay(each)} />
            {words[each]}
          </label>
        ))}
      </fieldset>
      <div className="fields">
        <LengthField
          metric="cm"
          label={words.widest}
          value={shown(tape.circumferenceMm)}
          onChange={(typedMm) => onTape({ ...tape, circumferenceMm: kept(typedMm) })}
          {...TAPE_LIMITS[way]}
        />
        <LengthField
          metric="cm"
          label={words.height}
          value={tape.heightMm}
          onChange={(heightMm) => onTape({ ...tape, heightMm })}
          {...TAPE_LIMITS.height}
        />
        <LengthField
          metric="cm"
          label={words.base}
          value={shown(tape.baseCircumferenceMm)}
          onChange={(typedMm) => onTape({ ...tape, baseCircumferenceMm: kept(typedMm) })}
          {...TAPE_LIMITS[way]}
        />
      </div>
      {asked && !complete && (
        <p className="sizes__missing" role="alert">
          {words.missing}
        </p>
      )}
      <button type="submit" className="button button--main button--wide">
        {words.use}
      </button>
    </form>
  );
}
