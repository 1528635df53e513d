import { useId, useState } from 'react';
import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { lengthWithin, numberToType, type TypedUnit, typedNumber, unitsPerMm } from './typed-number.ts';
import './number-field.css';

interface FieldProps {
  readonly label: string;
  /** Null: nothing typed. */
  readonly value: number | null;
  readonly onChange: (value: number | null) => void;
  /** Outside these nothing is passed on, and the limits are said. */
  readonly min: number;
  readonly max: number;
  readonly hint?: string;
  /** An emptied field keeps the last value. */
  readonly required?: boolean;
}

/** Limits are rounded as a maker would type them. */
const LIMIT_DIGITS = { mm: 1, cm: 1, in: 2 } as const satisfies Record<TypedUnit, number>;

/**
 * A length in mm, typed in mm, cm or inches as the maker chose. A unit typed after the number wins; a number that can
 * only be meant in another unit is read in that one, and the field says so.
 */
export function LengthField({ metric = 'mm', ...field }: FieldProps & { readonly metric?: 'mm' | 'cm' }) {
  const settings = useSettings();
  const unit: TypedUnit = settings.units === 'in' ? 'in' : metric;
  return (
    <TypedField
      {...field}
      unit={unit}
      shown={numberToType(field.value === null ? null : field.value * unitsPerMm(unit), 2, settings.language)}
      read={(text) => lengthWithin(text, unit, field).mm}
      guess={(text) => lengthWithin(text, unit, field).guessed}
      say={(valueMm) => `${numberToType(valueMm * unitsPerMm(unit), LIMIT_DIGITS[unit], settings.language)} ${unit}`}
    />
  );
}

/** A plain number: a count, a weight, a price. */
export function NumberField({
  unit,
  digits = 2,
  ...field
}: FieldProps & { readonly unit?: string; readonly digits?: number }) {
  const { language } = useSettings();
  const say = (value: number) => numberToType(value, digits, language);
  return (
    <TypedField
      {...field}
      unit={unit}
      shown={field.value === null ? '' : say(field.value)}
      read={(text) => {
        const number = typedNumber(text);
        return number !== null && digits === 0 && !Number.isInteger(number) ? Number.NaN : number;
      }}
      say={say}
    />
  );
}

interface TypedFieldProps extends FieldProps {
  readonly unit: string | undefined;
  readonly shown: string;
  readonly read: (text: string) => number | null;
  readonly say: (value: number) => string;
  /** The unit that was guessed for what is typed; null where none was. */
  readonly guess?: (text: string) => string | null;
}

/** Keeps what is being typed as it is, and passes on only what it understands. */
function TypedField({ label, onChange, min, max, hint, required, unit, shown, read, say, guess }: TypedFieldProps) {
  const words = useText().gauge.field;
  const id = useId();
  // Null while nobody types, so that changes from outside show.
  const [typing, setTyping] = useState<string | null>(null);
  const typed = typing === null ? null : read(typing);
  const guessed = typing === null ? null : (guess?.(typing) ?? null);
  const outside = typed !== null && !(typed >= min && typed <= max);
  const describedBy = [hint ? `${id}-hint` : '', outside ? `${id}-error` : ''].filter(Boolean).join(' ');

  const change = (text: string) => {
    setTyping(text);
    const value = read(text);
    if (value === null) {
      if (!required) onChange(null);
    } else if (value >= min && value <= max) {
      onChange(value);
    }
  };

  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <div className="with-unit">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={typing ?? shown}
          onChange={(event) => change(event.target.value)}
          onBlur={() => !outside && setTyping(null)}
          aria-invalid={outside || undefined}
          aria-describedby={describedBy || undefined}
        />
        {unit && <span>{guessed ?? unit}</span>}
      </div>
      {hint && (
        <span id={`${id}-hint`} className="hint">
          {hint}
        </span>
      )}
      {guessed && <output className="hint">{words.readAs(`${typing?.trim()} ${guessed}`)}</output>}
      {outside && (
        <span id={`${id}-error`} className="error">
          {Number.isNaN(typed) ? words.notANumber : words.between(say(min), say(max))}
        </span>
      )}
    </div>
  );
}
