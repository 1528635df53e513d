import type { Checkpoint, Part, Plan, Round } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import {
  chanceText,
  lengthText,
  longLengthText,
  massText,
  numberText,
  rulerRangeText,
  rulerText,
  timeText,
  yarnLengthText,
} from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { isFastenedOffAfter, TAIL_MM } from './fasten-off.ts';
import { checkpointsOnPaper, groupedCheckpoints, groupedRounds } from './grouped-rounds.ts';
import { LoadText } from './LoadAndCautions.tsx';
import { moneyText } from './money-text.ts';
import { PlanDrawing } from './PlanDrawing.tsx';
import { roundText } from './round-text.ts';
import { shortStitch } from './stitch-words.ts';
import { useSay } from './use-say.ts';
import { wordsUsed } from './words-used.ts';

/** The plan on paper: one or two pages beside the wool. Shown in print only. */
export function PlanSheet({ title, plan }: { readonly title: string; readonly plan: Plan }) {
  const words = useText().plan;
  const wording = useSettings();
  const say = useSay();
  return (
    <article className="sheet">
      <header className="sheet__head">
        <div>
          <h1>{title}</h1>
          <p>
            {words.sizes(
              lengthText(plan.container.maxDiameterMm, wording),
              lengthText(plan.container.heightMm, wording),
            )}
          </p>
          <Facts plan={plan} />
          <p className="sheet__small">
            {words.termSets[wording.terms]} {words.abbreviations}: {wordsUsed(plan, wording.terms, words.shortWords)}.
          </p>
        </div>
        <PlanDrawing className="sheet__side" plan={plan} shows="side" />
      </header>
      <section className="sheet__fit">
        <p>
          <strong>{words.fitTitle}</strong> {say(plan.fit.message)}
        </p>
        {plan.warnings.map((warning) => (
          <p key={warning}>⚠ {say(warning)}</p>
        ))}
      </section>
      {plan.parts.map((part, index) => (
        <div key={part.name} className={index === 0 ? 'sheet__base' : undefined}>
          <SheetPart part={part} plan={plan} />
          {index === 0 && <PlanDrawing className="sheet__chart" plan={plan} shows="base" />}
        </div>
      ))}
      <Checks plan={plan} />
      {plan.strap && (
        <section>
          <h2>{words.loadTitle}</h2>
          <LoadText plan={plan} />
        </section>
      )}
      <section className="sheet__cautions">
        <h2>{words.cautionsTitle}</h2>
        <ul>
          {plan.cautions.map((caution) => (
            <li key={caution}>{say(caution)}</li>
          ))}
        </ul>
      </section>
    </article>
  );
}

function Facts({ plan }: { readonly plan: Plan }) {
  const text = useText();
  const words = text.plan;
  const wording = useSettings();
  const { yarn, gauge, cost, minutes } = plan;
  const ball = `${numberText(gauge.yarn.ballGrams, 0, wording.language)} g`;
  return (
    <dl className="sheet__facts">
      <dt>{words.yarnNeed}</dt>
      <dd>
        {text.gauge.fibres[gauge.yarn.fibre]}, {words.strands(gauge.strands)}: {yarnLengthText(yarn.metres, wording)} (
        {massText(yarn.grams, wording)}); {words.balls(yarn.balls, ball)},{' '}
        {words.ballsEnough(chanceText(yarn.probabilityEnough, wording.language))}
      </dd>
      {gauge.hookMm !== null && (
        <>
          <dt>{words.hook}</dt>
          <dd>{numberText(gauge.hookMm, 2, wording.language)} mm</dd>
        </>
      )}
      <dt>{words.gauge}</dt>
      <dd>
        {words.gaugeText(
          shortStitch(gauge.stitch, wording.terms),
          lengthText(gauge.stitchWidthMm, wording),
          lengthText(gauge.roundHeightMm, wording),
        )}
        {gauge.origin === 'guess' && ` (${words.guess})`}
      </dd>
      <dt>{words.time}</dt>
      <dd>{words.timeAbout(timeText(minutes.value))}</dd>
      {cost?.total && (
        <>
          <dt>{words.cost}</dt>
          <dd>{moneyText(cost.total.value, cost, wording)}</dd>
        </>
      )}
    </dl>
  );
}

function SheetPart({ part, plan }: { readonly part: Part; readonly plan: Plan }) {
  const words = useText().plan;
  const wording = useSettings();
  const say = useSay();
  return (
    <section>
      <h2>{words.parts[part.name]}</h2>
      <p className="sheet__notes">{part.notes.map(say).join(' ')}</p>
      <table className="sheet__rounds">
        <tbody>
          {groupedRounds(part.rounds).map((group) => (
            <SheetRounds key={group[0].number} group={group} />
          ))}
        </tbody>
      </table>
      {isFastenedOffAfter(part, plan) && <p>{words.fastenOff(longLengthText(TAIL_MM, wording))}</p>}
      {part.name === 'strap' && plan.strap && <p>{say(plan.strap.sewOn)}</p>}
    </section>
  );
}

function SheetRounds({ group }: { readonly group: readonly Round[] }) {
  const words = useText().plan;
  const settings = useSettings();
  const say = useSay();
  const [first] = group;
  const last = group[group.length - 1];
  const isCord = first.closing === 'cord';
  const facts = [
    words.stitches(last.stitches),
    last.spaces > 0 ? words.cells(last.spaces) : '',
    last.widthMm ? words.across(rulerText(last.widthMm.value, settings)) : '',
    last.heightMm ? words.high(rulerText(last.heightMm.value, settings)) : '',
  ];
  return (
    <tr>
      <th scope="row">
        {isCord
          ? words.cord
          : group.length === 1
            ? words.round(first.number)
            : words.sameRounds(first.number, last.number)}
      </th>
      <td>
        {isCord ? say(first.note ?? '') : `${roundText(first, settings)}.`}
        {!isCord && first.note && <em> {say(first.note)}</em>}
        {group.length > 1 && <Boxes rounds={group} />}
      </td>
      <td className="sheet__count">{facts.filter(Boolean).map(unbroken).join(', ')}</td>
      <td className="sheet__tick">{group.length === 1 && <Boxes rounds={group} />}</td>
    </tr>
  );
}

/** "36 stitches" stays on one line. */
function unbroken(text: string): string {
  return text.replaceAll(' ', '\u00a0');
}

/** One box to tick for every round. */
function Boxes({ rounds }: { readonly rounds: readonly Round[] }) {
  return (
    <span className="sheet__boxes">
      {rounds.map(({ number }) => (
        <span key={number} className="sheet__box" />
      ))}
    </span>
  );
}

function Checks({ plan }: { readonly plan: Plan }) {
  const words = useText().plan;
  const wording = useSettings();
  const say = useSay();
  if (plan.checkpoints.length === 0) return null;
  const expectation = ({ measure, expectedMm, goOnMm }: Checkpoint) => {
    const length = rulerText(expectedMm.value, wording);
    const range = rulerRangeText(goOnMm, wording);
    return `${measure === 'width across' ? words.across(length) : words.high(length)} (${range})`;
  };
  return (
    <section>
      <h2>{words.checksTitle}</h2>
      <table className="sheet__checks">
        <thead>
          <tr>
            <th scope="col">{words.after}</th>
            <th scope="col">{words.expectRange}</th>
            <th scope="col">{words.ifLess}</th>
            <th scope="col">{words.ifMore}</th>
          </tr>
        </thead>
        <tbody>
          {groupedCheckpoints(checkpointsOnPaper(plan.checkpoints)).map((group) => (
            <tr key={group[0].afterRound}>
              <th scope="row">
                {group.map(({ afterRound }) => (
                  <div key={afterRound}>{words.round(afterRound)}</div>
                ))}
              </th>
              <td className="sheet__nowrap">
                {group.map((checkpoint) => (
                  <div key={checkpoint.afterRound}>{expectation(checkpoint)}</div>
                ))}
              </td>
              <td>{say(group[0].ifLess)}</td>
              <td>{say(group[0].ifMore)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
