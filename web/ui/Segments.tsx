import { useId } from 'react';

interface SegmentsProps<T extends string> {
  readonly legend: string;
  readonly options: readonly T[];
  /** Null while none is chosen. */
  readonly value: T | null;
  readonly name: (option: T) => string;
  readonly onChange: (option: T) => void;
}

/** A few exclusive choices side by side. */
export function Segments<T extends string>({ legend, options, value, name, onChange }: SegmentsProps<T>) {
  const id = useId();
  return (
    <fieldset className="segments">
      <legend>{legend}</legend>
      {options.map((option) => (
        <label key={option}>
          <input type="radio" name={id} checked={option === value} onChange={() => onChange(option)} />
          {name(option)}
        </label>
      ))}
    </fieldset>
  );
}
