import { useRef, useState } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import { NO_TAPE, type Tape } from '../keep/tape.ts';
import { PhotoButtons } from '../photo/PhotoButtons.tsx';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { AddPiece, type OnAdd } from './AddPiece.tsx';
import type { Offered } from './Answer.tsx';
import { DaySheet } from './DaySheet.tsx';
import type { Asked, Piece } from './day-sheet.ts';
import { Girth } from './Girth.tsx';
import { GirthAnswer } from './GirthAnswer.tsx';
import { PhotoAnswer } from './PhotoAnswer.tsx';
import { usePieceWords } from './piece-words.ts';
import { Rail } from './Rail.tsx';
import type { OnPicture, Touch, Touching } from './touching.ts';
import './stall.css';

/** The photo of the container in front of us, on its way to its sizes. */
export interface StallPhoto {
  readonly url: string | null;
  /** Its cards are covered; before that it is shown too blurred to read them. */
  readonly isCovered: boolean;
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
  readonly promised: Offered['promised'];
  readonly onPlan: Offered['onPlan'];
  readonly onChange: (id: string, change: { readonly soldAt?: number | null; readonly reservedFor?: string }) => void;
  readonly onPicture: OnPicture;
  readonly onAdd: OnAdd;
}

/** At the stall: one photo or one girth, and what fits hangs there. */
export function StallView(props: StallViewProps) {
  const { photo, pieces, asked, gauge, choices, onPhoto, onChange } = props;
  const words = useText().stall;
  const { name } = usePieceWords();
  const [tape, setTape] = useState<Tape>(NO_TAPE);
  const [next, setNext] = useState(false);
  /** The photo was taken here, for whoever stands in front of the stall. */
  const [taken, setTaken] = useState(false);
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
    setTaken(true);
    onPhoto(file);
  };
  const change = (piece: Piece, to: Touch) => {
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
  const touching: Touching = { hanging, onTouch: change };
  const offered: Offered = { ...touching, gauge, choices, promised: props.promised, onPlan: props.onPlan };
  return (
    <section className="stall stack" aria-labelledby="stall-title">
      <h1 id="stall-title">{words.title}</h1>
      {shownPhoto && !typed && !taken && <p className="quiet">{words.inHand}</p>}
      {shownPhoto && !typed ? (
        <PhotoAnswer {...offered} photo={shownPhoto} onPutRight={props.onPutRight} onNext={() => setNext(true)} />
      ) : (
        <>
          {!typed && <PhotoButtons onFile={pick} testId="stall-file" aims />}
          <Girth tape={tape} onTape={setTape} />
          {typed && <GirthAnswer {...offered} tape={tape} />}
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
      {!typed && !shownPhoto && <Rail {...touching} onPicture={props.onPicture} currency={choices.currency} />}
      <AddPiece gauge={gauge} choices={choices} onAdd={props.onAdd} />
      <DaySheet pieces={pieces} asked={asked} gauge={gauge} choices={choices} />
    </section>
  );
}
