import { useId, useState } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { useSettings } from '../app/use-settings.ts';
import { NO_TAPE, type Tape } from '../keep/tape.ts';
import { TapeEntry } from '../sizes/TapeEntry.tsx';
import { containerFromTapeAlone } from '../sizes/tape-check.ts';
import { chanceText, numberText, shortLengthText, timeText, yarnLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { EmptyRail } from '../ui/drawings.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Nothing } from '../ui/Nothing.tsx';
import { AddCarrier } from './AddCarrier.tsx';
import type { FinishedCarrier } from './finished-carrier.ts';
import { FITS_FROM, rankedStock, type StockFit } from './which-fits.ts';
import './stock.css';

export interface StockItem {
  readonly id: string;
  readonly label: string;
  readonly carrier: FinishedCarrier;
}

interface StockViewProps {
  /** The container of the job in hand; null when there is none. */
  readonly container: Container | null;
  /** Finished carriers not sold yet. */
  readonly items: readonly StockItem[];
  /** What a new one would be made with. */
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly onSnap: () => void;
  /** Make a new one: for the tape numbers typed here, or (null) for the job's container. */
  readonly onPlan: (tape: Tape | null) => void;
  readonly onSold: (id: string) => void;
  /** Brings a sold piece back; without it, selling cannot be undone here. */
  readonly onUnsold?: (id: string) => void;
  readonly onAdd: (label: string, carrier: FinishedCarrier) => void;
}

/** At the stall: which of the finished carriers goes with the container in front of us. */
export function StockView({
  container,
  items,
  gauge,
  choices,
  onSnap,
  onPlan,
  onSold,
  onUnsold,
  onAdd,
}: StockViewProps) {
  const text = useText();
  const words = text.stock;
  const wording = useSettings();
  const [tape, setTape] = useState<Tape>(NO_TAPE);
  const [asked, setAsked] = useState<'job' | 'tape' | null>(container ? 'job' : null);
  const [sold, setSold] = useState<{ readonly id: string; readonly label: string } | null>(null);
  const label = useStockLabel();
  const sell = (item: StockItem) => {
    onSold(item.id);
    setSold({ id: item.id, label: label(item) });
  };
  const asking = asked === 'tape' ? containerFromTapeAlone(tape) : asked === 'job' ? container : null;
  return (
    <section className="stock stack" aria-labelledby="stock-title">
      <div>
        <h1 id="stock-title">{words.title}</h1>
        <p className="quiet">
          {asking
            ? words.typed(
                shortLengthText(asking.maxDiameterMm.value, wording),
                shortLengthText(asking.heightMm.value, wording),
              )
            : words.lead}
        </p>
      </div>
      {asking ? (
        <>
          <div>
            <button type="button" className="button" onClick={() => setAsked(null)}>
              {words.other}
            </button>
          </div>
          <Answer container={asking} items={items} gauge={gauge} choices={choices} onSold={sell}>
            <button
              type="button"
              className="button button--main"
              onClick={() => onPlan(asked === 'tape' ? tape : null)}
            >
              {words.plan} <Icon name="arrow" />
            </button>
          </Answer>
        </>
      ) : (
        <>
          <button type="button" className="button button--main stock__snap" onClick={onSnap}>
            <Icon name="camera" /> {words.snap}
          </button>
          <section className="panel stack" aria-labelledby="stock-tape">
            <h2 id="stock-tape">{text.sizes.entry.title}</h2>
            <TapeEntry tape={tape} onTape={setTape} onUse={() => setAsked('tape')} />
          </section>
          {items.length === 0 ? (
            <Nothing drawing={<EmptyRail />} says={words.empty} />
          ) : (
            <p className="quiet">{words.count(items.length)}</p>
          )}
        </>
      )}
      <div role="status">
        {sold && (
          <div className="note row row--apart">
            {words.soldNow(sold.label)}
            {onUnsold && (
              <button
                type="button"
                className="button"
                onClick={() => {
                  onUnsold(sold.id);
                  setSold(null);
                }}
              >
                <Icon name="undo" /> {words.unsold}
              </button>
            )}
          </div>
        )}
      </div>
      <AddCarrier gauge={gauge} choices={choices} onAdd={onAdd} />
    </section>
  );
}

interface AnswerProps {
  readonly container: Container;
  readonly items: readonly StockItem[];
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly onSold: (item: StockItem) => void;
  /** The way to a plan for a new one. */
  readonly children: React.ReactNode;
}

function Answer({ container, items, gauge, choices, onSold, children }: AnswerProps) {
  const words = useText().stock;
  const wording = useSettings();
  const titleId = useId();
  const ranked = rankedStock(items, container);
  const anyFits = ranked.some(({ fit }) => fit.probability >= FITS_FROM);
  const fresh = planCarrier(container, gauge, choices);
  return (
    <div className="stack" aria-live="polite">
      {!anyFits && (
        <div className="note">
          <div className="stack stack--tight">
            <strong>{items.length === 0 ? words.empty : words.none}</strong>
            {fresh.outcome === 'planned' && (
              <p>
                {words.makeOne(timeText(fresh.plan.minutes.value), yarnLengthText(fresh.plan.yarn.metres, wording))}
              </p>
            )}
            <div>{children}</div>
          </div>
        </div>
      )}
      {ranked.length > 0 && (
        <section aria-labelledby={titleId}>
          <h2 id={titleId} className="visually-hidden">
            {words.stockTitle}
          </h2>
          <ol className="stock__list">
            {ranked.map(({ item, fit }) => (
              <li key={item.id} className={fit.probability >= FITS_FROM ? 'panel stock__fit' : 'panel'}>
                <StockRow item={item} fit={fit} onSold={() => onSold(item)} />
              </li>
            ))}
          </ol>
        </section>
      )}
      {anyFits && <div>{children}</div>}
    </div>
  );
}

interface StockRowProps {
  readonly item: StockItem;
  readonly fit: StockFit;
  readonly onSold: () => void;
}

function StockRow({ item, fit, onSold }: StockRowProps) {
  const text = useText();
  const words = text.stock;
  const wording = useSettings();
  const label = useStockLabel();
  const fits = fit.probability >= FITS_FROM;
  return (
    <div className="row row--apart">
      <div className="stock__text">
        <strong className="stock__label">{label(item)}</strong>
        <span className="stock__verdict">
          <Icon name={fits ? 'check' : 'close'} /> {fits ? words.fits : words.fitsNot},{' '}
          {words.chance(chanceText(fit.probability, wording.language))}
        </span>
        <span className="quiet small">
          {text.plan.carriers[item.carrier.kind]}. {reasonText(item, fit, words.reasons, wording)}
        </span>
      </div>
      {fits && (
        <button type="button" className="button" onClick={onSold}>
          {words.sold}
        </button>
      )}
    </div>
  );
}

/** A piece without a label goes by what it is for. */
function useStockLabel(): (item: StockItem) => string {
  const text = useText();
  const wording = useSettings();
  return ({ label, carrier }) =>
    label || text.stock.unnamed(text.plan.carriers[carrier.kind], shortLengthText(carrier.madeFor.widestMm, wording));
}

/** Sizes closer than this count as the same. */
const SAME_SHARE = 0.005;

function reasonText(
  { carrier }: StockItem,
  { wider, risk }: StockFit,
  words: ReturnType<typeof useText>['stock']['reasons'],
  wording: ReturnType<typeof useSettings>,
): string {
  const made = shortLengthText(carrier.madeFor.widestMm, wording);
  const percent = `${numberText(Math.abs(wider) * 100, 1, wording.language)} %`;
  const size =
    Math.abs(wider) < SAME_SHARE ? words.same : wider > 0 ? words.wider(percent, made) : words.narrower(percent, made);
  return `${size} ${words[risk]}`;
}
