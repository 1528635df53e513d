import { useMemo } from 'react';
import { useSettings } from '../app/use-settings.ts';
import { moneyText } from '../plan/money-text.ts';
import { shortLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { type Asked, dayBegan, daySheet, daySheetCsv, type Piece } from './day-sheet.ts';
import { usePieceWords } from './piece-words.ts';

interface DaySheetProps {
  readonly pieces: readonly Piece[];
  readonly asked: readonly Asked[];
  readonly currency: string;
}

/** What the market day came to: sold, money, and what to make next. */
export function DaySheet({ pieces, asked, currency }: DaySheetProps) {
  const words = useText().stall.day;
  const wording = useSettings();
  const { name } = usePieceWords();
  const began = dayBegan(Date.now());
  const { sold, money, missing } = useMemo(() => daySheet(pieces, asked, began), [pieces, asked, began]);
  const save = () => {
    const url = URL.createObjectURL(new Blob([daySheetCsv(sold, words.columns)], { type: 'text/csv;charset=utf-8' }));
    const link = document.createElement('a');
    link.href = url;
    link.download = `roundwise-${new Date().toISOString().slice(0, 10)}.csv`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 0);
  };
  return (
    <Fold title={words.title} icon="guide">
      <div className="stack">
        <p>
          <strong>
            {sold.length === 0 ? words.nothing : words.sold(sold.length, moneyText(money, { currency }, wording))}
          </strong>
        </p>
        {sold.length > 0 && (
          <ul className="stall__sold">
            {sold.map((piece) => (
              <li key={piece.id} className="row row--apart">
                <span>{name(piece)}</span>
                <span>{piece.carrier.price !== null && moneyText(piece.carrier.price, { currency }, wording)}</span>
              </li>
            ))}
          </ul>
        )}
        {missing.length > 0 && (
          <>
            <h3>{words.asked}</h3>
            <ul>
              {missing.map(({ at, container }) => (
                <li key={at}>
                  {words.askedFor(
                    shortLengthText(Math.PI * container.maxDiameterMm.value, wording),
                    shortLengthText(container.heightMm.value, wording),
                  )}
                </li>
              ))}
            </ul>
            <p className="quiet">{words.make}</p>
          </>
        )}
        {sold.length > 0 && (
          <div className="row">
            <button type="button" className="button" onClick={save}>
              {words.save}
            </button>
            <button type="button" className="button" onClick={() => window.print()}>
              {words.print}
            </button>
          </div>
        )}
      </div>
    </Fold>
  );
}
