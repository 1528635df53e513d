import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { chanceText, massText, numberText, timeText, yarnLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { moneyText } from './money-text.ts';
import { useVoice } from './use-voice.ts';
import { gaugeFact, hourWords } from './words/pattern.ts';

/** What to buy, how long it takes, what it costs. */
export function YarnAndTime({ plan }: { readonly plan: Plan }) {
  const text = useText();
  const words = text.plan;
  const wording = useSettings();
  const voice = useVoice();
  const { yarn, gauge, cost, minutes } = plan;
  // A guess is no ground for a percentage.
  const isGuess = gauge.origin === 'guess';
  const grams = `${numberText(gauge.yarn.ballGrams, 0, wording.language)} g`;
  return (
    <section className="panel stack stack--tight" aria-labelledby="plan-yarn">
      <h2 id="plan-yarn">{words.yarnTitle}</h2>
      <dl className="plan__facts">
        <dt>{words.yarnNeed}</dt>
        <dd>
          <strong className="number">{yarnLengthText(yarn.metres, wording)}</strong>{' '}
          <span className="number">({massText(yarn.grams, wording)})</span>
        </dd>
        <dd>
          {words.balls(yarn.balls, grams)}
          {!isGuess && `, ${words.ballsEnough(chanceText(yarn.probabilityEnough, wording.language))}`}
          {!isGuess &&
            yarn.oneBallLess &&
            `; ${words.ballsLess(yarn.oneBallLess.balls, chanceText(yarn.oneBallLess.probabilityEnough, wording.language))}`}
          . {text.gauge.fibres[gauge.yarn.fibre]}, {words.strands(gauge.strands)}.
        </dd>
        <dt>{words.time}</dt>
        <dd>
          <strong>{words.timeAbout(timeText(minutes.value))}</strong> ± {timeText(1.96 * minutes.sd)}
        </dd>
        {cost && (
          <>
            <dt>{words.cost}</dt>
            <dd>
              {[
                cost.material === null ? '' : `${words.costParts.material} ${moneyText(cost.material, cost, wording)}`,
                cost.labour === null ? '' : `${words.costParts.labour} ${moneyText(cost.labour.value, cost, wording)}`,
              ]
                .filter(Boolean)
                .join(', ')}
              {cost.total && (
                <>
                  , {words.costParts.total} <strong>{moneyText(cost.total.value, cost, wording)}</strong> ±{' '}
                  {moneyText(1.96 * cost.total.sd, cost, wording)}
                </>
              )}
              {hourWords(cost, text, voice).map((hour) => (
                <p key={hour}>{hour}</p>
              ))}
            </dd>
          </>
        )}
        {gauge.hookMm !== null && (
          <>
            <dt>{words.hook}</dt>
            <dd>{numberText(gauge.hookMm, 2, wording.language)} mm</dd>
          </>
        )}
        <dt>{words.gauge}</dt>
        <dd>{gaugeFact(plan, text, voice).text}</dd>
      </dl>
      <details className="plan__more">
        <summary>{words.byPart}</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.part}</th>
              <th scope="col">{words.yarnNeed}</th>
              <th scope="col">{words.time}</th>
            </tr>
          </thead>
          <tbody>
            {plan.parts.map((part) => (
              <tr key={part.name}>
                <th scope="row">{words.parts[part.name]}</th>
                <td>{yarnLengthText(part.yarnMetres, wording)}</td>
                <td>{timeText(part.minutes.value)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}
