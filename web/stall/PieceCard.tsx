import { type ReactNode, useRef, useState } from 'react';
import { useSettings } from '../app/use-settings.ts';
import { moneyText } from '../plan/money-text.ts';
import { longLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import type { Piece } from './day-sheet.ts';
import { PiecePicture } from './PiecePicture.tsx';
import { usePieceWords } from './piece-words.ts';
import type { OnPicture, Touching } from './touching.ts';

interface PieceCardProps extends Pick<Touching, 'onTouch'> {
  readonly piece: Piece;
  /** Left out where a customer waits. */
  readonly onPicture?: OnPicture;
  readonly fits: boolean;
  readonly currency: string;
  readonly children?: ReactNode;
}

/** A piece as a customer sees it: picture, price, what it holds; and what becomes of it. */
export function PieceCard({ piece, fits, currency, onTouch, onPicture, children }: PieceCardProps) {
  const words = useText().stall;
  const wording = useSettings();
  const { name, kind, holds, across } = usePieceWords();
  const { carrier } = piece;
  const reserved = carrier.reservedFor !== '';
  return (
    <li className={fits ? 'piece piece--fits' : 'piece'}>
      <PiecePicture piece={piece} />
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
        {onPicture && <TakePicture piece={piece} name={name(piece)} onPicture={onPicture} />}
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

interface TakePictureProps {
  readonly onPicture: OnPicture;
  readonly piece: Piece;
  readonly name: string;
}

/** Her own photo of the piece. One without a card in it is kept once she says that there is none. */
function TakePicture({ piece, name, onPicture }: TakePictureProps) {
  const words = useText().stall.picture;
  const input = useRef<HTMLInputElement>(null);
  const [state, setState] = useState<'idle' | 'busy' | 'failed' | { readonly asking: Blob }>('idle');
  const keep = async (photo: Blob, withoutCard: boolean) => {
    setState('busy');
    const outcome = await onPicture(piece, photo, withoutCard);
    setState(outcome === 'kept' ? 'idle' : outcome === 'failed' ? 'failed' : { asking: photo });
  };
  return (
    <>
      <button
        type="button"
        className="button button--quiet button--icon"
        aria-label={words.take(name)}
        disabled={state === 'busy'}
        onClick={() => input.current?.click()}
      >
        <Icon name="camera" />
      </button>
      <input
        ref={input}
        type="file"
        accept="image/*,.heic,.heif,.avif"
        hidden
        data-testid="piece-photo"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) void keep(file, false);
          event.target.value = '';
        }}
      />
      <div role="status" className="piece__said">
        {state === 'busy' && words.busy}
        {state === 'failed' && words.failed}
        {typeof state === 'object' && (
          <>
            {words.noCard}
            <button type="button" className="button" onClick={() => void keep(state.asking, true)}>
              {words.noneInIt}
            </button>
            <button type="button" className="button button--quiet" onClick={() => setState('idle')}>
              {words.leaveIt}
            </button>
          </>
        )}
      </div>
    </>
  );
}
