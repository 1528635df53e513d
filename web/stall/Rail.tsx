import { useState } from 'react';
import { useText } from '../text/text.ts';
import { EmptyRail } from '../ui/drawings.tsx';
import { openFold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Nothing } from '../ui/Nothing.tsx';
import { ADD_PIECE } from './AddPiece.tsx';
import { PieceCard } from './PieceCard.tsx';
import { type OnPicture, PIECES_AT_ONCE, type Touching, together } from './touching.ts';

interface RailProps extends Touching {
  readonly onPicture: OnPicture;
  readonly currency: string;
}

/** Everything that hangs there; pieces alike stand once with their number. */
export function Rail({ hanging, onTouch, onPicture, currency }: RailProps) {
  const words = useText().stall;
  const [most, setMost] = useState(PIECES_AT_ONCE);
  const alike = together(hanging, (piece) => piece);
  if (hanging.length === 0) return <NoStock />;
  const shown = alike.slice(0, most);
  return (
    <section className="stack" aria-label={words.rail}>
      <h2>
        {words.rail} <span className="quiet">{words.pieces(hanging.length)}</span>
      </h2>
      <ul className="stall__pieces">
        {shown.map((same) => (
          <PieceCard
            key={same[0].id}
            piece={same[0]}
            onTouch={onTouch}
            onPicture={onPicture}
            currency={currency}
            fits={false}
          >
            {same.length > 1 && <span className="quiet">{words.same(same.length)}</span>}
          </PieceCard>
        ))}
      </ul>
      {shown.length < alike.length && (
        <button type="button" className="button" onClick={() => setMost(most + PIECES_AT_ONCE)}>
          {words.more(Math.min(PIECES_AT_ONCE, alike.length - shown.length))}
        </button>
      )}
    </section>
  );
}

/** Nothing hangs there yet; the one next step. */
export function NoStock() {
  const words = useText().stall;
  return (
    <Nothing drawing={<EmptyRail />} says={words.empty}>
      <button type="button" className="button" onClick={() => openFold(ADD_PIECE)}>
        <Icon name="plus" /> {words.add.title}
      </button>
    </Nothing>
  );
}
