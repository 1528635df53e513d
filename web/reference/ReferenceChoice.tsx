import { useId, useState } from 'react';
import { ID1_CARD, REFERENCES } from '../../vision/reference/reference.ts';
import { ROUND_REFERENCES } from '../../vision/reference/round-reference.ts';
import { useSettings } from '../app/use-settings.ts';
import { numberText, valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { LengthField } from '../ui/NumberField.tsx';
import { CHECK_READING_SD_MM, checkedLengthNamed } from './printed-frame.ts';
import {
  anyReferenceNamed,
  isRoundNamed,
  nameOfRectangle,
  type OwnRectangle,
  rectangleNamed,
} from './reference-named.ts';

interface ReferenceChoiceProps {
  /** By name or size; null for a bank card. */
  readonly value: string | null;
  readonly onChange: (reference: string | null) => void;
  /** What a small coin means for the sizes, when it is chosen. */
  readonly coinNote?: string;
}

const OWN = 'own';
const NO_SIZE: OwnRectangle = { longMm: null, shortMm: null, thicknessMm: null };
/** From here on a reference makes the ± clearly wider than a card does. */
const COARSE_RELATIVE_SD = 0.003;

/** What lies beside the container or the work, and how well its own size is known. */
export function ReferenceChoice({ value, onChange, coinNote = '' }: ReferenceChoiceProps) {
  const text = useText();
  const words = text.reference;
  const settings = useSettings();
  const id = useId();
  const [rectangle, setRectangle] = useState<OwnRectangle | null>(value === null ? null : rectangleNamed(value));
  const chosen = value ?? ID1_CARD.name;
  const printed = [...new Set([settings.reference, value])].filter(
    (name) => name !== null && checkedLengthNamed(name) !== null,
  ) as string[];
  const nameInWords = (name: string): string => {
    const checkedMm = checkedLengthNamed(name);
    return checkedMm === null
      ? (text.check.references[name] ?? name)
      : words.printed(valueText({ value: checkedMm, sd: CHECK_READING_SD_MM }, settings));
  };
  const choose = (name: string) => {
    setRectangle(name === OWN ? (rectangle ?? NO_SIZE) : null);
    if (name !== OWN) onChange(name === ID1_CARD.name ? null : name);
  };
  const resize = (size: OwnRectangle) => {
    setRectangle(size);
    const name = nameOfRectangle(size);
    if (name) onChange(name);
  };
  return (
    <div className="stack stack--tight">
      <div className="field">
        <label htmlFor={id}>{text.check.reference}</label>
        <select
          id={id}
          value={rectangle ? OWN : chosen}
          onChange={(event) => choose(event.target.value)}
          aria-describedby={`${id}-note`}
        >
          {[...REFERENCES.map(({ name }) => name), ...printed].map((name) => (
            <option key={name} value={name}>
              {nameInWords(name)}
            </option>
          ))}
          <option value={OWN}>{words.own}</option>
          <optgroup label={words.round}>
            {ROUND_REFERENCES.map(({ name }) => (
              <option key={name} value={name}>
                {words.rounds[name] ?? name}
              </option>
            ))}
          </optgroup>
        </select>
        <span id={`${id}-note`} className="hint">
          <Tolerance name={chosen} /> {isRoundNamed(chosen) && coinNote}
        </span>
      </div>
      {rectangle && <RectangleFields size={rectangle} onSize={resize} />}
    </div>
  );
}

function Tolerance({ name }: { readonly name: string }) {
  const words = useText().reference;
  const { language } = useSettings();
  const reference = anyReferenceNamed(name);
  if (!reference) return null;
  const percent = `${numberText(196 * reference.relativeSd, 1, language)} %`;
  return `${words.tolerance(percent)} ${reference.relativeSd > COARSE_RELATIVE_SD ? words.coarse : ''}`;
}

interface RectangleFieldsProps {
  readonly size: OwnRectangle;
  readonly onSize: (size: OwnRectangle) => void;
}

function RectangleFields({ size, onSize }: RectangleFieldsProps) {
  const words = useText().reference;
  return (
    <div className="fields">
      <LengthField
        label={words.long}
        value={size.longMm}
        onChange={(longMm) => onSize({ ...size, longMm })}
        min={20}
        max={1000}
      />
      <LengthField
        label={words.short}
        value={size.shortMm}
        onChange={(shortMm) => onSize({ ...size, shortMm })}
        min={20}
        max={1000}
      />
      <LengthField
        label={words.thickness}
        hint={words.thicknessHint}
        value={size.thicknessMm}
        onChange={(thicknessMm) => onSize({ ...size, thicknessMm })}
        min={0}
        max={50}
      />
    </div>
  );
}
