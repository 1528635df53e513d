import { type ReactNode, useRef, useState } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import { CONTAINER_LIMITS, type Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { useSettings } from '../app/use-settings.ts';
import { NO_TAPE, type Tape } from '../keep/tape.ts';
import { PhotoButtons } from '../photo/PhotoButtons.tsx';
import { moneyText } from '../plan/money-text.ts';
import { containerFromTapeAlone } from '../sizes/tape-check.ts';
import { longLengthText, shortLengthText, timeText, yarnLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { EmptyRail } from '../ui/drawings.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Nothing } from '../ui/Nothing.tsx';
import { LengthField } from '../ui/NumberField.tsx';
import { AddPiece } from './AddPiece.tsx';
import { type Answered, stallAnswer, stallAnswers } from './answer.ts';
import { DaySheet } from './DaySheet.tsx';
import type { Asked, Piece } from './day-sheet.ts';
import type { FinishedCarrier } from './finished-carrier.ts';
import { PieceDrawing } from './PieceDrawing.tsx';
import { usePieceWords } from './piece-words.ts';
import './stall.css';

/** The photo of the container in front of us, on its way to its sizes. */
export interface StallPhoto {
  readonly url: string | null;
  readonly state: 'measuring' | 'measured' | 'refused';
  /** Null until it is measured. */
  readonly container: Container | null;
}

export interface StallViewProps {
  /** Null while nothing was photographed here. */
  readonly photo: StallPhoto | null;
  /** All pieces, those sold included. */
  readonly pieces: readonly Piece[];
  readonly asked: readonly Asked[];
  /** What a new one would be made with. */
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly onPhoto: (file: File) => void;
  readonly onPutRight: () => void;
  /** Make a new one: for the tape numbers typed here, or (null) for the photo's container. */
  readonly onPlan: (tape: Tape | null) => void;
  readonly onChange: (id: string, change: { readonly soldAt?: number | null; readonly reservedFor?: string }) => void;
  readonly onAdd: (label: string, carrier: FinishedCarrier, count: number) => void;
}

const PIECES_SHOWN = 24;

/** At the stall: one photo or one girth, and what fits hangs there. */
export function StallView(props: StallViewProps) {
  const { photo, pieces, asked, gauge, choices, onPhoto, onChange } = props;
  const words = useText().stall;
  const { name } = usePieceWords();
  const [tape, setTape] = useState<Tape>(NO_TAPE);
  const [next, setNext] = useState(false);
  const [told, setTold] = useState<{ readonly says: string; readonly back: () => void } | null>(null);
  // Undo comes later than the change it takes back: it must know the piece as it is then.
  const latest = useRef(onChange);
  latest.current = onChange;
  const hanging = pieces.filter(({ soldAt }) => soldAt === null);
  const typed = tape.circumferenceMm !== null;
  const shownPhoto = next ? null : photo;
  const pick = (file: File) => {
    setTape(NO_TAPE);
    setNext(false);
    onPhoto(file);
  };
  const change = (piece: Piece, to: 'sold' | 'reserved' | 'free') => {
    const was = { soldAt: piece.soldAt, reservedFor: piece.carrier.reservedFor };
    onChange(
      piece.id,
      to === 'sold' ? { soldAt: Date.now() } : { reservedFor: to === 'reserved' ? words.reserved : '' },
    );
    if (to === 'free') return setTold(null);
    const says = (to === 'sold' ? words.soldNow : words.reservedNow)(name(piece));
    setTold({
      says,
      back: () => {
        latest.current(piece.id, was);
        setTold(null);
      },
    });
  };
  return (
    <section className="stall stack" aria-labelledby="stall-title">
      <h1 id="stall-title">{words.title}</h1>
      {shownPhoto && !typed ? (
        <PhotoAnswer {...props} photo={shownPhoto} hanging={hanging} onTouch={change} onNext={() => setNext(true)} />
      ) : (
        <>
          {!typed && <PhotoButtons onFile={pick} testId="stall-file" />}
          <Girth tape={tape} onTape={setTape} />
          {tape.circumferenceMm !== null && (
            <GirthAnswer {...props} tape={tape} girthMm={tape.circumferenceMm} hanging={hanging} onTouch={change} />
          )}
        </>
      )}
      <div role="status" className="stall__told">
        {told && (
          <div className="note row row--apart">
            {told.says}
            <button type="button" className="button" onClick={told.back}>
              <Icon name="undo" /> {words.undo}
            </button>
          </div>
        )}
      </div>
      {!typed && !shownPhoto && <Rail pieces={hanging} onTouch={change} currency={choices.currency} />}
      <AddPiece gauge={gauge} choices={choices} onAdd={props.onAdd} />
      <DaySheet pieces={pieces} asked={asked} currency={choices.currency} />
    </section>
  );
}

interface Touching {
  readonly hanging: readonly Piece[];
  readonly onTouch: (piece: Piece, to: 'sold' | 'reserved' | 'free') => void;
}

/** The photo, and the answer over its lower edge as soon as it is there. */
function PhotoAnswer({
  photo,
  onNext,
  onPutRight,
  ...rest
}: StallViewProps & Touching & { readonly photo: StallPhoto; readonly onNext: () => void }) {
  const words = useText().stall;
  const { container, state, url } = photo;
  return (
    <>
      <div className="stall__photo">
        {url && <img src={url} alt="" />}
        {state === 'measuring' && <Busy done={2}>{words.looking}</Busy>}
      </div>
      {state === 'refused' && (
        <div className="note note--warn row row--apart" role="alert">
          <span>{words.refused}</span>
          <button type="button" className="button" onClick={onPutRight}>
            {words.putRight}
          </button>
        </div>
      )}
      {state === 'measured' && container && (
        <div className="stall__sheet">
          <Answer {...rest} container={container} answers={stallAnswers(rest.hanging, container)} tape={null} />
        </div>
      )}
      <div>
        <button type="button" className="button" onClick={onNext}>
          <Icon name="camera" /> {words.another}
        </button>
      </div>
    </>
  );
}

/** A girth alone is enough: each piece is then asked at the height it was made for. */
function GirthAnswer({ tape, girthMm, ...rest }: StallViewProps & Touching & { tape: Tape; girthMm: number }) {
  const container = containerFromTapeAlone({ ...tape, heightMm: tape.heightMm ?? 200 });
  if (!container) return null;
  const answers =
    tape.heightMm !== null
      ? stallAnswers(rest.hanging, container)
      : stallAnswers(rest.hanging, container).map(({ item }) => {
          const sameHeight = { ...container, heightMm: { value: item.carrier.madeFor.heightMm, sd: 1 } };
          return { item, answer: stallAnswer(item.carrier, sameHeight) };
        });
  return <Answer {...rest} container={container} answers={answers} tape={tape} />;
}

interface GirthProps {
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
}

function Girth({ tape, onTape }: GirthProps) {
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

interface AnswerProps extends Pick<StallViewProps, 'gauge' | 'choices' | 'onPlan'>, Touching {
  readonly container: Container;
  readonly answers: readonly Answered<Piece>[];
  /** What was typed; null for a photo. */
  readonly tape: Tape | null;
}

function Answer({ container, answers, tape, gauge, choices, onPlan, onTouch }: AnswerProps) {
  const words = useText().stall;
  const wording = useSettings();
  const { verdict } = usePieceWords();
  const best = ['fits', 'measure-once', 'try-on'] as const;
  const fitting = answers.filter(({ answer }) => best.some((each) => each === answer.verdict));
  const nearly = answers.filter(({ answer }) => answer.verdict === 'nearly').slice(0, 3);
  const fresh = planCarrier(container, gauge, choices);
  const around = shortLengthText(Math.PI * container.maxDiameterMm.value, wording);
  const height = tape && tape.heightMm === null ? null : shortLengthText(container.heightMm.value, wording);
  const canPlan = tape === null || tape.heightMm !== null;
  const list = (some: readonly Answered<Piece>[]) => (
    <ul className="stall__pieces">
      {some.slice(0, PIECES_SHOWN).map(({ item, answer }) => (
        <PieceCard
          key={item.id}
          piece={item}
          onTouch={onTouch}
          currency={choices.currency}
          fits={answer.verdict === 'fits'}
        >
          <strong className="piece__verdict">
            <Icon name={answer.verdict === 'fits' ? 'check' : 'tape'} /> {verdict(answer)}
          </strong>
        </PieceCard>
      ))}
    </ul>
  );
  return (
    <div className="stack" aria-live="polite">
      <p className="quiet">{words.answerFor(around, height)}</p>
      {fitting.length > 0 ? (
        <>
          <h2>{words.fitting}</h2>
          {list(fitting)}
        </>
      ) : (
        <p>
          <strong>{words.none}</strong>
        </p>
      )}
      {nearly.length > 0 && (
        <>
          <h2>{words.nearlyTitle}</h2>
          {list(nearly)}
        </>
      )}
      {fresh.outcome === 'planned' && canPlan && (
        <div className="note row row--apart">
          <div>
            <strong>{words.madeForYou}</strong>
            <p>
              {words.makeOne(timeText(fresh.plan.minutes.value), yarnLengthText(fresh.plan.yarn.metres, wording))}
              {fresh.plan.cost?.material != null &&
                ` ${words.material(moneyText(fresh.plan.cost.material, fresh.plan.cost, wording))}`}
            </p>
          </div>
          <button type="button" className="button button--main" onClick={() => onPlan(tape)}>
            {words.plan} <Icon name="arrow" />
          </button>
        </div>
      )}
    </div>
  );
}

/** Everything that hangs there; pieces alike stand once with their number. */
function Rail({
  pieces,
  onTouch,
  currency,
}: {
  readonly pieces: readonly Piece[];
  readonly onTouch: Touching['onTouch'];
  readonly currency: string;
}) {
  const words = useText().stall;
  const [all, setAll] = useState(false);
  const alike = together(pieces);
  if (pieces.length === 0) return <Nothing drawing={<EmptyRail />} says={words.empty} />;
  const shown = all ? alike : alike.slice(0, PIECES_SHOWN);
  return (
    <section className="stack" aria-label={words.rail}>
      <h2>
        {words.rail} <span className="quiet">{words.pieces(pieces.length)}</span>
      </h2>
      <ul className="stall__pieces">
        {shown.map((same) => (
          <PieceCard key={same[0].id} piece={same[0]} onTouch={onTouch} currency={currency} fits={false}>
            {same.length > 1 && <span className="quiet">{words.same(same.length)}</span>}
          </PieceCard>
        ))}
      </ul>
      {shown.length < alike.length && (
        <button type="button" className="button" onClick={() => setAll(true)}>
          {words.more(alike.length - shown.length)}
        </button>
      )}
    </section>
  );
}

/** Pieces that differ in nothing a customer sees. */
function together(pieces: readonly Piece[]): Piece[][] {
  const alike = new Map<string, Piece[]>();
  for (const piece of pieces) {
    const key = JSON.stringify([piece.label, piece.carrier]);
    alike.set(key, [...(alike.get(key) ?? []), piece]);
  }
  return [...alike.values()];
}

interface PieceCardProps {
  readonly piece: Piece;
  readonly fits: boolean;
  readonly currency: string;
  readonly onTouch: Touching['onTouch'];
  readonly children?: ReactNode;
}

function PieceCard({ piece, fits, currency, onTouch, children }: PieceCardProps) {
  const words = useText().stall;
  const wording = useSettings();
  const { name, kind, holds, across } = usePieceWords();
  const { carrier } = piece;
  const reserved = carrier.reservedFor !== '';
  return (
    <li className={fits ? 'piece piece--fits' : 'piece'}>
      <PieceDrawing {...carrier} />
      <div className="piece__text">
        {children}
        <span className="piece__name">{name(piece)}</span>
        {carrier.price !== null && (
          <span className="piece__price">{moneyText(carrier.price, { currency }, wording)}</span>
        )}
        <span className="quiet small">
          {kind(carrier)}. {holds(carrier)}, {across(carrier)}
          {carrier.strapMm !== null && `, ${words.strap(longLengthText(carrier.strapMm, wording))}`}
        </span>
        {reserved && <span className="small">{words.reserved}</span>}
      </div>
      <div className="piece__ways">
        <button type="button" className="button" onClick={() => onTouch(piece, 'sold')}>
          {words.sold}
        </button>
        <button
          type="button"
          className="button button--quiet"
          onClick={() => onTouch(piece, reserved ? 'free' : 'reserved')}
        >
          {reserved ? words.free : words.reserve}
        </button>
      </div>
    </li>
  );
}
