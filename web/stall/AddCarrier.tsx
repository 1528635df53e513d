import { type FormEvent, useId, useState } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import { CONTAINER_LIMITS, containerFromTape } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { useText } from '../text/text.ts';
import { LengthField } from '../ui/NumberField.tsx';
import { type FinishedCarrier, finishedCarrier } from './finished-carrier.ts';

interface AddCarrierProps {
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly onAdd: (label: string, carrier: FinishedCarrier) => void;
}

/** A piece made without a plan, told by the container it was made for. */
export function AddCarrier({ gauge, choices, onAdd }: AddCarrierProps) {
  const words = useText().stock;
  const id = useId();
  const [label, setLabel] = useState('');
  const [acrossMm, setAcrossMm] = useState<number | null>(null);
  const [heightMm, setHeightMm] = useState<number | null>(null);
  const [said, setSaid] = useState('');
  const plan =
    acrossMm === null || heightMm === null
      ? null
      : planCarrier(containerFromTape({ diameterMm: acrossMm, heightMm }), gauge, choices);
  const add = (event: FormEvent) => {
    event.preventDefault();
    if (plan?.outcome !== 'planned') return;
    onAdd(label, finishedCarrier(plan.plan));
    setLabel('');
    setSaid(words.added);
  };
  return (
    <details className="panel stock__add">
      <summary>{words.addTitle}</summary>
      <form className="stack" onSubmit={add}>
        <p className="quiet">{words.addLead}</p>
        <div className="fields">
          <div className="field">
            <label htmlFor={id}>{words.label}</label>
            <input
              id={id}
              type="text"
              maxLength={200}
              value={label}
              onChange={(event) => setLabel(event.target.value)}
              aria-describedby={`${id}-hint`}
            />
            <span id={`${id}-hint`} className="hint">
              {words.labelHint}
            </span>
          </div>
          <LengthField
            label={words.across}
            value={acrossMm}
            onChange={setAcrossMm}
            min={CONTAINER_LIMITS.diameterMm[0]}
            max={CONTAINER_LIMITS.diameterMm[1]}
          />
          <LengthField
            label={words.height}
            value={heightMm}
            onChange={setHeightMm}
            min={CONTAINER_LIMITS.heightMm[0]}
            max={CONTAINER_LIMITS.heightMm[1]}
          />
        </div>
        <div className="row">
          <button type="submit" className="button" disabled={plan?.outcome !== 'planned'}>
            {words.add}
          </button>
          <span role="status">{said}</span>
        </div>
      </form>
    </details>
  );
}
