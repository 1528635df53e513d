import { useMemo } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Settings } from '../app/settings.ts';
import { useSettings } from '../app/use-settings.ts';
import { colourWords } from '../carrier-view/carrier-words.ts';
import { keptColour } from '../carrier-view/use-yarn-colour.ts';
import { USUAL_YARN } from '../carrier-view/yarn-colours.ts';
import { moneyText } from '../plan/money-text.ts';
import { massText, numberText, tapeText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { saveFile } from '../ui/hand-on.ts';
import { type Asked, dayBegan, daySheet, daySheetCsv, type Piece, yarnCsv } from './day-sheet.ts';
import { usePieceWords } from './piece-words.ts';
import { yarnToBuy } from './yarn-to-buy.ts';

interface DaySheetProps {
  readonly pieces: readonly Piece[];
  readonly asked: readonly Asked[];
  /** What new ones would be made with. */
  readonly gauge: Gauge;
  readonly choices: Choices;
}

/** What the market day came to: sold, money, and what to make next. */
export function DaySheet({ pieces, asked, gauge, choices }: DaySheetProps) {
  const { stall, picture } = useText();
  const words = stall.day;
  const wording = useSettings();
  const { name } = usePieceWords();
  const began = dayBegan(Date.now());
  const { sold, money, missing } = useMemo(() => daySheet(pieces, asked, began), [pieces, asked, began]);
  const { currency } = choices;
  const usual = keptColour() ?? USUAL_YARN;
  // A plan for every piece: not anew with every letter that is typed beside it.
  const yarn = useMemo(
    () => yarnToBuy({ sold, missing }, gauge, choices, usual),
    [sold, missing, gauge, choices, usual],
  );
  const rows =
    daySheetCsv(sold, words.columns) + yarnCsv(yarn, words.yarnColumns, (colour) => colourWords(colour, picture));
  const save = () => {
    const name = `roundwise-${new Date().toISOString().slice(0, 10)}.csv`;
    saveFile(new File([rows], name, { type: 'text/csv;charset=utf-8' }));
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
            <h2>{words.asked}</h2>
            <ul>
              {missing.map(({ at, container }) => (
                <li key={at}>
                  {words.askedFor(
                    tapeText(Math.PI * container.maxDiameterMm.value, wording),
                    tapeText(container.heightMm.value, wording),
                  )}
                </li>
              ))}
            </ul>
            <p className="quiet">{words.make}</p>
          </>
        )}
        {yarn.length > 0 && (
          <>
            <h2>{words.yarn}</h2>
            <ul>
              {yarn.map(({ colour, pieces, grams, balls }) => (
                <li key={colour}>
                  {words.yarnOf(
                    colourWords(colour, picture),
                    pieces,
                    massText(grams, wording),
                    balls,
                    ballText(gauge.yarn.ballGrams, wording),
                  )}
                </li>
              ))}
            </ul>
          </>
        )}
        {yarn.length > 0 && (
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

/** What stands on a ball: "50 g", "1.8 oz". */
function ballText(grams: number, { units, language }: Pick<Settings, 'units' | 'language'>): string {
  return units === 'in' ? `${numberText(grams / 28.3495, 1, language)} oz` : `${numberText(grams, 0, language)} g`;
}
