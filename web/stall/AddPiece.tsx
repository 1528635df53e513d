import { type FormEvent, useId, useState } from 'react';
import { CARRIER_KINDS, type CarrierKind, type Choices, defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { useSettings } from '../app/use-settings.ts';
import { YarnColours } from '../carrier-view/YarnColours.tsx';
import { USUAL_YARN } from '../carrier-view/yarn-colours.ts';
import { TAPE_LIMITS } from '../sizes/tape-limits.ts';
import { rulerText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { LengthField, NumberField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import { type FinishedCarrier, finishedCarrier } from './finished-carrier.ts';

interface AddPieceProps {
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly onAdd: OnAdd;
}

/** @param plan  how it looks */
export type OnAdd = (label: string, carrier: FinishedCarrier, plan: Plan, count: number) => void;

/** The fold that it is in. */
export const ADD_PIECE = 'add-piece';

const WAYS = ['around', 'across'] as const;
const MOST_AT_ONCE = 50;

/** Few bottles, cups and jars are wider than this across; a girth typed by mistake is (common practice, no source). */
const DOUBTED_ACROSS_MM = 150;

/** A piece made without a plan, told by the container it was made for. */
export function AddPiece({ gauge, choices, onAdd }: AddPieceProps) {
  const text = useText();
  const words = text.stall.add;
  const wording = useSettings();
  const id = useId();
  const [kind, setKind] = useState<CarrierKind>('net');
  const [label, setLabel] = useState('');
  const [way, setWay] = useState<(typeof WAYS)[number]>('around');
  const [acrossMm, setAcrossMm] = useState<number | null>(null);
  const [heightMm, setHeightMm] = useState<number | null>(null);
  const [price, setPrice] = useState<number | null>(null);
  const [count, setCount] = useState(1);
  const [colour, setColour] = useState<string>(USUAL_YARN);
  const [said, setSaid] = useState('');
  const perAcross = way === 'around' ? Math.PI : 1;
  const doubted = way === 'across' && acrossMm !== null && acrossMm > DOUBTED_ACROSS_MM;
  const container =
    acrossMm === null || heightMm === null ? null : containerFromTape({ diameterMm: acrossMm, heightMm });
  const usual = choices.carrier === kind ? choices : defaultChoices(kind);
  const plan = container && planCarrier(container, gauge, usual);
  const add = (event: FormEvent) => {
    event.preventDefault();
    if (plan?.outcome !== 'planned') return;
    onAdd(label, finishedCarrier(plan.plan, { colour, price }), plan.plan, count);
    setLabel('');
    setAcrossMm(null);
    setHeightMm(null);
    setCount(1);
    setSaid(words.done(count));
  };
  return (
    <Fold title={words.title} icon="plus" id={ADD_PIECE}>
      <form className="stack" onSubmit={add}>
        <p className="quiet">{words.lead}</p>
        <Segments
          legend={words.kind}
          options={CARRIER_KINDS}
          value={kind}
          name={(each) => text.plan.carriers[each]}
          onChange={setKind}
        />
        <Segments
          legend={words.measure}
          options={WAYS}
          value={way}
          name={(each) => words.ways[each]}
          onChange={setWay}
        />
        <div className="fields">
          <LengthField
            key={`${way}-${said}`}
            metric="cm"
            label={words.size[way]}
            value={acrossMm === null ? null : acrossMm * perAcross}
            onChange={(typedMm) => setAcrossMm(typedMm === null ? null : typedMm / perAcross)}
            {...TAPE_LIMITS[way]}
          />
          <LengthField
            metric="cm"
            label={words.height}
            value={heightMm}
            onChange={setHeightMm}
            {...TAPE_LIMITS.height}
          />
          <NumberField label={words.price} value={price} onChange={setPrice} min={0.01} max={100_000} />
          <NumberField
            label={words.count}
            value={count}
            onChange={(typed) => typed !== null && setCount(typed)}
            min={1}
            max={MOST_AT_ONCE}
            digits={0}
            required
          />
        </div>
        {doubted && acrossMm !== null && (
          <div className="note note--warn row row--apart" role="alert">
            <span>{words.doubt(rulerText(acrossMm, wording))}</span>
            <button
              type="button"
              className="button"
              onClick={() => {
                setAcrossMm(acrossMm / Math.PI);
                setWay('around');
              }}
            >
              {words.meantAround}
            </button>
          </div>
        )}
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
        <YarnColours colour={colour} onColour={setColour} />
        <div className="row">
          <button type="submit" className="button" disabled={plan?.outcome !== 'planned'}>
            {words.submit}
          </button>
          <span role="status">{said}</span>
        </div>
      </form>
    </Fold>
  );
}
