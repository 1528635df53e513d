import { type Dispatch, useState } from 'react';
import type { Container } from '../../sizing/container.ts';
import type { Plan } from '../../sizing/plan.ts';
import type { Action, Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import { discFromPhoto, progressFromTubePhoto } from '../engine/work-to-gauge.ts';
import { gaugeEntryFrom, usableGauge } from '../gauge/gauge-entry.ts';
import { currentPlan } from '../plan/current-plan.ts';
import { choicesFrom, planProgressFrom, type Reading, withReading } from '../plan/plan-progress.ts';
import { useVoice } from '../plan/use-voice.ts';
import { adviceText } from '../plan/words/advice-text.ts';
import { lengthText, valueText } from '../text/estimate-text.ts';
import { type Text, useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { CountsApart } from './CountsApart.tsx';
import { areApart } from './counts-apart.ts';
import { type Course, plannedLength, type Verdict, verdictOn } from './verdict.ts';
import type { WorkCheck } from './work-check.ts';

interface PlanVerdictProps {
  readonly job: Job;
  readonly check: WorkCheck;
  readonly container: Container;
  readonly dispatch: Dispatch<Action>;
  readonly onDone: () => void;
}

/** Go on, one more round, or rip back, with the numbers behind it, and the way to take it into the plan. */
export function PlanVerdict({ job, check, container, dispatch, onDone }: PlanVerdictProps) {
  const words = useText().work.verdict;
  const [sureOf, setSureOf] = useState('');
  const progress = planProgressFrom(job.progress);
  const current = currentPlan(container, usableGauge(gaugeEntryFrom(job.gauge)), choicesFrom(job.choices), progress);
  if (current.outcome !== 'planned' || check.answer?.result.outcome !== 'measured') return null;
  const { plan } = current;
  const reading = readingOf(check);
  const verdict = reading && verdictOn(plan, reading);
  const seen = reading && { value: reading.mm, sd: reading.sdMm ?? 0 };
  const believed = verdict?.expectedMm ?? null;
  const apart = seen !== null && believed !== null && areApart(seen, believed);
  const counts = `${check.rounds} ${check.stitches}`;
  const use = () => {
    if (!reading || !verdict) return;
    dispatch({ type: 'progress', progress: withReading(progress, reading, verdict.advice) });
    onDone();
  };
  return (
    <section className="work__outcome stack stack--tight" aria-labelledby="work-verdict" aria-live="polite">
      <h2 id="work-verdict">{words.title}</h2>
      {!reading && <p>{words.missing}</p>}
      {reading && !verdict && <Note kind="stop">{words.refused}</Note>}
      {reading && verdict && <Numbers before={plan} reading={reading} verdict={verdict} check={check} />}
      {seen && believed && apart && (
        <CountsApart
          what="piece"
          seen={seen}
          believed={believed}
          sure={sureOf === counts}
          onSure={(sure) => setSureOf(sure ? counts : '')}
        />
      )}
      <button
        type="button"
        className="button button--main"
        disabled={!verdict || (apart && sureOf !== counts)}
        onClick={use}
      >
        {words.use} <Icon name="arrow" />
      </button>
    </section>
  );
}

/** What the photo says about the plan's round; null while something is not counted. */
function readingOf({ answer, rounds, stitches }: WorkCheck): Reading | null {
  const result = answer?.result;
  if (result?.outcome !== 'measured' || rounds === null) return null;
  if (result.piece === 'disc' && stitches !== null) {
    const { measuredWidthMm, sdMm } = discFromPhoto(result.disc, rounds, stitches);
    return { afterRound: rounds, stitches, measure: 'width', mm: measuredWidthMm, sdMm };
  }
  if (result.piece !== 'tube') return null;
  const { measuredWidthMm, sdMm } = progressFromTubePhoto(result.tube, rounds);
  return measuredWidthMm === undefined ? null : { afterRound: rounds, measure: 'width', mm: measuredWidthMm, sdMm };
}

interface NumbersProps {
  readonly before: Plan;
  readonly reading: Reading;
  readonly verdict: Verdict;
  readonly check: WorkCheck;
}

function Numbers({ before, reading, verdict, check }: NumbersProps) {
  const text = useText().work;
  const words = text.verdict;
  const wording = useSettings();
  const voice = useVoice();
  const { check: checkWords } = useText().plan;
  const { after, expectedMm, course, advice } = verdict;
  const base = after.parts.find(({ name }) => name === 'base')?.rounds ?? [];
  const last = base.at(-1);
  const lengthMm = check.piece === 'tube' ? plannedLength(before, reading.afterRound) : null;
  return (
    <>
      <p className="work__course">{courseText(course, words)}</p>
      <p>{adviceText(advice, checkWords, voice)}</p>
      <dl className="work__numbers">
        <dt>{words.yours}</dt>
        <dd>{lengthText({ value: reading.mm, sd: reading.sdMm ?? 0 }, wording)}</dd>
        {expectedMm && (
          <>
            <dt>{words.planned(reading.afterRound)}</dt>
            <dd>{lengthText(expectedMm, wording)}</dd>
          </>
        )}
        <dt>{words.stitch}</dt>
        <dd>
          {lengthText(after.gauge.stitchWidthMm, wording)},{' '}
          {words.stitchBefore(lengthText(before.gauge.stitchWidthMm, wording))}
        </dd>
        {last?.widthMm && (
          <>
            <dt>{words.base}</dt>
            <dd>
              {words.baseRounds(base.length, last.stitches)}, {valueText(last.widthMm, wording)}
            </dd>
          </>
        )}
      </dl>
      {lengthMm && <p className="quiet small">{text.lengthPlanned(lengthText(lengthMm, wording))}</p>}
    </>
  );
}

function courseText(course: Course, words: Text['work']['verdict']): string {
  switch (course.kind) {
    case 'go-on':
      return words.goOn;
    case 'changed':
      return words.changed;
    case 'more-rounds':
      return words.moreRounds(course.count);
    case 'fewer-rounds':
      return words.fewerRounds(course.count);
    case 'rip-back':
      return course.toRound === 0 ? words.anew : words.ripBack(course.toRound);
  }
}
