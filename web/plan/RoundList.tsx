import { useEffect, useId, useRef } from 'react';
import type { Checkpoint, Part, Round } from '../../sizing/plan.ts';
import { useText } from '../text/text.ts';
import { CheckpointEntry, ReadingResult, type WorkToPhotograph } from './CheckpointEntry.tsx';
import type { CurrentPlan } from './current-plan.ts';
import { type PlanProgress, ticked, withConfirmed, withoutReading } from './plan-progress.ts';
import { useVoice } from './use-voice.ts';
import { countAfter, type PatternLine, type PatternPart, patternOf } from './words/pattern.ts';

interface RoundListProps {
  readonly current: Extract<CurrentPlan, { outcome: 'planned' }>;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
  readonly onPhotograph: (work: WorkToPhotograph) => void;
}

/** The rounds, ticked off while working; it opens where the work was left. */
export function RoundList({ current, progress, onProgress, onPhotograph }: RoundListProps) {
  const text = useText();
  const words = text.plan;
  const { plan, rounds } = current;
  const pattern = patternOf('', plan, text, useVoice());
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
      <p className="quiet small">{pattern.terms}</p>
      {plan.parts.map((part, index) => (
        <PartRounds
          key={part.name}
          part={part}
          pattern={pattern.parts[index]}
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
  readonly pattern: PatternPart;
  readonly nextRound: number;
  readonly place: React.RefObject<HTMLLIElement | null>;
}

function PartRounds(props: PartRoundsProps) {
  const { part, pattern, current, progress, onProgress, onPhotograph, nextRound, place } = props;
  const titleId = useId();
  const { plan, answers } = current;
  return (
    <section className="panel stack stack--tight" aria-labelledby={titleId}>
      <h3 id={titleId}>{pattern.title}</h3>
      {pattern.notes.map((note) => (
        <p key={note} className="small">
          {note}
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
              line={lineOf(round, pattern)}
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
                  onConfirm={() => onProgress(withConfirmed(progress, reading))}
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
      {pattern.end && <p className="small">{pattern.end}</p>}
    </section>
  );
}

function checkpointsAfter(checkpoints: readonly Checkpoint[], round: Round): Checkpoint[] {
  return checkpoints.filter(({ afterRound }) => afterRound === round.number);
}

function lineOf(round: Round, { lines }: PatternPart): PatternLine {
  const line = lines.find(({ rounds }) => rounds.some(({ number }) => number === round.number));
  return line as PatternLine;
}

interface RoundRowProps {
  readonly round: Round;
  readonly line: PatternLine;
  readonly isDone: boolean;
  readonly isNext: boolean;
  readonly onTick: (isDone: boolean) => void;
}

function RoundRow({ round, line, isDone, isNext, onTick }: RoundRowProps) {
  const text = useText();
  const voice = useVoice();
  return (
    <label className={isDone ? 'plan__row plan__row--done' : 'plan__row'}>
      <input type="checkbox" checked={isDone} onChange={(event) => onTick(event.target.checked)} />
      <span className="plan__row-text">
        <strong>
          {line.count === '' ? line.label : text.plan.round(round.number)}
          {isNext && <span className="plan__next"> {text.plan.next}</span>}
        </strong>
        <span>{line.work}.</span>
        {line.count && <span className="quiet small">{countAfter(round, text, voice)}</span>}
        {line.notes.length > 0 && <span className="small plan__row-note">{line.notes.join(' ')}</span>}
      </span>
    </label>
  );
}
