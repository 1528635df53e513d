import { useId, useState } from 'react';
import type { Choices } from '../../sizing/choices.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Tape } from '../keep/tape.ts';
import { dayText } from '../orders/reply.ts';
import { moneyText } from '../plan/money-text.ts';
import { tapeText, timeText, yarnLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import type { Answered } from './answer.ts';
import type { Piece } from './day-sheet.ts';
import { PieceCard } from './PieceCard.tsx';
import { usePieceWords } from './piece-words.ts';
import { NoStock } from './Rail.tsx';
import { PIECES_AT_ONCE, type Touching, together } from './touching.ts';

/** What every answer is made from. */
export interface Offered extends Touching {
  /** What a new one would be made with. */
  readonly gauge: Gauge;
  readonly choices: Choices;
  /** Days that open orders are promised for, ISO 8601; null where none was agreed. */
  readonly promised: readonly (string | null)[];
  /** Make a new one: for the tape numbers typed here, or (null) for the photo's container; by a day, when one is agreed. */
  readonly onPlan: (tape: Tape | null, due: string | null) => void;
}

interface AnswerProps extends Offered {
  readonly container: Container;
  readonly answers: readonly Answered<Piece>[];
  /** What was typed; null for a photo. */
  readonly tape: Tape | null;
}

/** What fits now, what nearly fits, and what would be made. */
export function Answer({ container, answers, tape, hanging, gauge, choices, promised, onPlan, onTouch }: AnswerProps) {
  const words = useText().stall;
  const wording = useSettings();
  const { verdict } = usePieceWords();
  const best = ['fits', 'measure-once', 'try-on'] as const;
  const fitting = answers.filter(({ answer }) => best.some((each) => each === answer.verdict));
  const nearly = answers.filter(({ answer }) => answer.verdict === 'nearly').slice(0, 3);
  const fresh = planCarrier(container, gauge, choices);
  const around = tapeText(Math.PI * container.maxDiameterMm.value, wording);
  const height = tape && tape.heightMm === null ? null : tapeText(container.heightMm.value, wording);
  const canPlan = tape === null || tape.heightMm !== null;
  const list = (some: readonly Answered<Piece>[]) => (
    <ul className="stall__pieces">
      {together(some, ({ item }) => item)
        .slice(0, PIECES_AT_ONCE)
        .map((alike) => {
          const [{ item, answer }] = alike;
          return (
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
              {alike.length > 1 && <span className="quiet">{words.same(alike.length)}</span>}
            </PieceCard>
          );
        })}
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
      ) : hanging.length === 0 ? (
        <NoStock />
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
        <MadeForYou plan={fresh.plan} promised={promised} onPlan={(due) => onPlan(tape, due)} />
      )}
    </div>
  );
}

interface MadeForYouProps extends Pick<Offered, 'promised'> {
  readonly plan: Plan;
  readonly onPlan: (due: string | null) => void;
}

/** What a new one takes, what is promised before it, and the day it is wanted. */
function MadeForYou({ plan, promised, onPlan }: MadeForYouProps) {
  const words = useText().stall;
  const wording = useSettings();
  const id = useId();
  const [due, setDue] = useState('');
  const { minutes, yarn, cost } = plan;
  const last = promised
    .filter((day) => day !== null)
    .sort()
    .at(-1);
  return (
    <div className="note stack stack--tight">
      <div>
        <strong>{words.madeForYou}</strong>
        <p>
          {words.makeOne(timeText(minutes.value), yarnLengthText(yarn.metres, wording))}
          {cost?.material != null && ` ${words.material(moneyText(cost.material, cost, wording))}`}
          {promised.length > 0 &&
            ` ${words.ordersBefore(promised.length, last ? dayText(last, wording.language) : null)}`}
        </p>
      </div>
      <div className="row row--apart">
        <div className="field">
          <label htmlFor={id}>{words.readyOn}</label>
          <input id={id} type="date" value={due} onChange={(event) => setDue(event.target.value)} />
        </div>
        <button type="button" className="button button--main" onClick={() => onPlan(due || null)}>
          {words.plan} <Icon name="arrow" />
        </button>
      </div>
    </div>
  );
}
