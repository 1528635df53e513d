import { useId } from 'react';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';

interface KeepPanelProps {
  readonly label: string;
  readonly onLabel: (label: string) => void;
  readonly onKeep: () => void;
  readonly action: string;
  /** Nothing changed since it was last kept. */
  readonly kept: boolean;
}

/** A label and the button that keeps the thing on screen under it. */
export function KeepPanel({ label, onLabel, onKeep, action, kept }: KeepPanelProps) {
  const text = useText().keep;
  const id = useId();
  return (
    <form
      className="stack stack--tight no-print"
      onSubmit={(event) => {
        event.preventDefault();
        onKeep();
      }}
    >
      <div className="field">
        <label htmlFor={id}>{text.labelField}</label>
        <input
          id={id}
          type="text"
          value={label}
          maxLength={200}
          aria-describedby={`${id}-hint`}
          onChange={(event) => onLabel(event.target.value)}
        />
        <span className="hint" id={`${id}-hint`}>
          {text.labelHint}
        </span>
      </div>
      <button type="submit" className="button">
        <Icon name="save" /> {action}
      </button>
      <p role="status">{kept && text.keptNow}</p>
    </form>
  );
}
