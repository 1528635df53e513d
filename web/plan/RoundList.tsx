import { useEffect, useId, useRef } from 'react';
import type { Checkpoint, Part, Round } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { longLengthText, rulerText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { CheckpointEntry, ReadingResult, type WorkToPhotograph } from './CheckpointEntry.tsx';
import { isFastenedOffAfter, TAIL_MM } from './fasten-off.ts';
import { type CurrentPlan, type PlanProgress, ticked, withoutReading } from './plan-progress.ts';
import { roundText } from './round-text.ts';
import { useSay } from './use-say.ts';

interface RoundListProps {
  readonly current: Extract<CurrentPlan, { outcome: 'planned' }>;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
  readonly onPhotograph: (work: WorkToPhotograph) => void;
}

/** The rounds, ticked off while working; it opens where the work was left. */
export function RoundList({ current, progress, onProgress, onPhotograph }: RoundListProps) {
  const words = useText().plan;
  const { plan, rounds } = current;
  const nextRound = Math.min(progress.roundsDone, rounds.length) + 1;
  const place = useRef<HTMLLIElement>(null);
  const scrollToNext = () => place.current?.scrollIntoView({ block: 'center' });
  const wasStarted = useRef(progress.roundsDone > 0);
  useEffect(() => {
    if (wasStarted.current) place.current?.scrollIntoView({ block: 'center' });
  }, []);
  return (
    <section className="stack" aria-labelledby="plan-rounds">
      <div className="row row--apart plan__rounds-head">
        <h2 id="plan-rounds">{words.roundsTitle}</h2>
        <span className="row">
          <span role="status">
            {progress.roundsDone >= rounds.length
              ? words.roundsAll
              : words.roundsDone(progress.roundsDone, rounds.length)}
          </span>
          {progress.roundsDone > 0 && progress.roundsDone < rounds.length && (
            <button type="button" className="button" onClick={scrollToNext}>
              {words.goToNext(nextRound)}
            </button>
          )}
        </span>
      </div>
      <p className="quiet small">{words.termSets[useSettings().terms]}</p>
      {plan.parts.map((part) => (
        <PartRounds
          key={part.name}
          part={part}
          current={current}
          progress={progress}
          onProgress={onProgress}
          onPhotograph={onPhotograph}
          nextRound={nextRound}
          place={place}
        />
      ))}
      {progress.roundsDone > 0 && (
        <div>
          <button
            type="button"
            className="button button--quiet"
            onClick={() => onProgress({ ...progress, roundsDone: 0 })}
          >
            {words.startAgain}
          </button>
        </div>
      )}
    </section>
  );
}

interface PartRoundsProps extends RoundListProps {
  readonly part: Part;
  readonly nextRound: number;
  readonly place: React.RefObject<HTMLLIElement | null>;
}

function PartRounds({ part, current, progress, onProgress, onPhotograph, nextRound, place }: PartRoundsProps) {
  const words = useText().plan;
  const say = useSay();
  const titleId = useId();
  const wording = useSettings();
  const { plan, answers } = current;
  return (
    <section className="panel stack stack--tight" aria-labelledby={titleId}>
      <h3 id={titleId}>{words.parts[part.name]}</h3>
      {part.notes.map((note) => (
        <p key={note} className="small">
          {say(note)}
        </p>
      ))}
      <ol className="plan__rounds">
        {part.rounds.map((round) => (
          <li
            key={round.number}
            ref={round.number === nextRound ? place : undefined}
            className={round.number === nextRound ? 'plan__round plan__round--next' : 'plan__round'}
          >
            <RoundRow
              round={round}
              isDone={round.number <= progress.roundsDone}
              isNext={round.number === nextRound}
              onTick={(isDone) => onProgress(ticked(progress, round.number, isDone))}
            />
            {answers
              .filter(({ reading }) => reading.afterRound === round.number)
              .map(({ reading, answer }) => (
                <ReadingResult
                  key={progress.readings.indexOf(reading)}
                  reading={reading}
                  answer={answer}
                  onTakeBack={() => onProgress(withoutReading(progress, reading))}
                />
              ))}
            {checkpointsAfter(plan.checkpoints, round).map((checkpoint) => (
              <CheckpointEntry
                key={checkpoint.measure}
                checkpoint={checkpoint}
                round={round}
                plan={plan}
                progress={progress}
                onProgress={onProgress}
                onPhotograph={onPhotograph}
              />
            ))}
          </li>
        ))}
      </ol>
      {isFastenedOffAfter(part, plan) && <p className="small">{words.fastenOff(longLengthText(TAIL_MM, wording))}</p>}
      {part.name === 'strap' && plan.strap && <p className="small">{say(plan.strap.sewOn)}</p>}
    </section>
  );
}

function checkpointsAfter(checkpoints: readonly Checkpoint[], round: Round): Checkpoint[] {
  return checkpoints.filter(({ afterRound }) => afterRound === round.number);
}

interface RoundRowProps {
  readonly round: Round;
  readonly isDone: boolean;
  readonly isNext: boolean;
  readonly onTick: (isDone: boolean) => void;
}

function RoundRow({ round, isDone, isNext, onTick }: RoundRowProps) {
  const words = useText().plan;
  const settings = useSettings();
  const say = useSay();
  const isCord = round.closing === 'cord';
  const size = round.widthMm
    ? words.across(rulerText(round.widthMm.value, settings))
    : round.heightMm
      ? words.high(rulerText(round.heightMm.value, settings))
      : '';
  const counts = isCord
    ? []
    : [words.stitches(round.stitches), round.spaces > 0 ? words.cells(round.spaces) : '', size];
  return (
    <label className={isDone ? 'plan__row plan__row--done' : 'plan__row'}>
      <input type="checkbox" checked={isDone} onChange={(event) => onTick(event.target.checked)} />
      <span className="plan__row-text">
        <strong>
          {isCord ? words.cord : words.round(round.number)}
          {isNext && <span className="plan__next"> {words.next}</span>}
        </strong>
        <span>{isCord ? say(round.note ?? '') : roundText(round, settings)}</span>
        {counts.length > 0 && <span className="quiet small">{counts.filter(Boolean).join(' · ')}</span>}
        {!isCord && round.note && <span className="small plan__row-note">{say(round.note)}</span>}
        {isCord && <span className="quiet small">{words.stitches(round.stitches)}</span>}
      </span>
    </label>
  );
}
