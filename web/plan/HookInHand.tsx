import { type KeyboardEvent, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { isOwnPiece, type Part, type Round, type Step } from '../../sizing/plan.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { tick } from '../ui/touch-felt.ts';
import { CheckpointEntry, ReadingResult, type WorkToPhotograph } from './CheckpointEntry.tsx';
import type { CurrentPlan } from './current-plan.ts';
import { PlanDrawing } from './PlanDrawing.tsx';
import { type PlanProgress, ticked, withConfirmed, withoutReading } from './plan-progress.ts';
import { useVoice } from './use-voice.ts';
import { useWakeLock } from './use-wake-lock.ts';
import { countAfter, type Pattern, type PatternLine, type PatternPart, patternOf } from './words/pattern.ts';
import './hook-in-hand.css';

interface HookInHandProps {
  readonly current: Extract<CurrentPlan, { outcome: 'planned' }>;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
  readonly onPhotograph: (work: WorkToPhotograph) => void;
  readonly onClose: () => void;
}

/** One round at a time over the whole screen, for one thumb: what to work, how often, what comes next. */
export function HookInHand(props: HookInHandProps) {
  const { current, progress, onProgress, onPhotograph, onClose } = props;
  const text = useText();
  const words = text.plan.hand;
  const { plan, rounds, answers } = current;
  const pattern = patternOf('', plan, text, useVoice());
  const place = useRef<HTMLDialogElement>(null);
  const [skippedCheck, setSkippedCheck] = useState(0);
  useWakeLock();
  useLayoutEffect(() => {
    const dialog = place.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);

  const { roundsDone } = progress;
  const done = rounds[roundsDone - 1];
  const checks = plan.checkpoints.filter(({ afterRound }) => afterRound === roundsDone);
  const results = answers.filter(({ reading }) => reading.afterRound === roundsDone);
  const isChecking = done !== undefined && checks.length > 0 && results.length === 0 && skippedCheck !== roundsDone;
  const round = rounds[roundsDone];
  const advance = () => {
    if (isChecking) return setSkippedCheck(roundsDone);
    if (!round) return;
    // felt without looking up from the work
    tick();
    onProgress(ticked(progress, round.number, true));
  };
  const goBack = () => {
    if (roundsDone > 0) onProgress(ticked(progress, roundsDone, false));
  };
  const onKeyDown = (event: KeyboardEvent) => {
    if ((event.target as HTMLElement).closest('input, button, summary')) return;
    if (['Enter', ' ', 'ArrowRight'].includes(event.key)) advance();
    else if (['Backspace', 'ArrowLeft'].includes(event.key)) goBack();
    else return;
    event.preventDefault();
  };
  const where = round ? partOf(plan.parts, round) : null;
  return (
    <dialog
      ref={place}
      className="hand"
      aria-label={words.title}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onKeyDown={onKeyDown}
    >
      <div className="hand__head">
        <button type="button" className="button button--quiet button--icon" aria-label={words.close} onClick={onClose}>
          <Icon name="close" />
        </button>
        <span>{where ? text.plan.parts[where.part.name] : words.ended}</span>
        <span className="hand__where">{text.plan.roundsDone(Math.min(roundsDone, rounds.length), rounds.length)}</span>
      </div>
      <div className="hand__body">
        {results.map(({ reading, answer }) => (
          <ReadingResult
            key={progress.readings.indexOf(reading)}
            reading={reading}
            answer={answer}
            onTakeBack={() => onProgress(withoutReading(progress, reading))}
            onConfirm={() => onProgress(withConfirmed(progress, reading))}
          />
        ))}
        {isChecking ? (
          checks.map((checkpoint) => (
            <CheckpointEntry
              key={checkpoint.measure}
              checkpoint={checkpoint}
              round={done}
              plan={plan}
              progress={progress}
              onProgress={onProgress}
              onPhotograph={onPhotograph}
            />
          ))
        ) : round && where ? (
          <RoundInHand key={round.number} round={round} where={where} pattern={pattern} current={current} />
        ) : (
          <Ended pattern={pattern} />
        )}
      </div>
      <div className="hand__foot">
        {(round || isChecking) && (
          <button type="button" className={isChecking ? 'button' : 'button button--main hand__done'} onClick={advance}>
            {isChecking ? words.skipCheck : words.done}
          </button>
        )}
        <button type="button" className="button" disabled={roundsDone === 0} onClick={goBack}>
          <Icon name="undo" /> {words.back}
        </button>
      </div>
    </dialog>
  );
}

interface Where {
  readonly part: Part;
  readonly index: number;
}

function partOf(parts: readonly Part[], round: Round): Where {
  const index = parts.findIndex((part) => part.rounds.some(({ number }) => number === round.number));
  return { part: parts[index], index };
}

interface RoundInHandProps {
  readonly round: Round;
  readonly where: Where;
  readonly pattern: Pattern;
  readonly current: HookInHandProps['current'];
}

function RoundInHand({ round, where, pattern, current }: RoundInHandProps) {
  const text = useText();
  const voice = useVoice();
  const words = text.plan.hand;
  const { plan } = current;
  const part = pattern.parts[where.index];
  const line = part.lines.find(({ rounds }) => rounds.some(({ number }) => number === round.number)) as PatternLine;
  const isFirst = where.part.rounds[0].number === round.number;
  const isLast = where.part.rounds.at(-1)?.number === round.number;
  const next = plan.checkpoints.find(({ afterRound }) => afterRound >= round.number);
  const alike = line.rounds.findIndex(({ number }) => number === round.number) + 1;
  const name = line.count === '' ? line.label : text.plan.round(round.number);
  return (
    <>
      {isFirst && <PartNotes part={part} />}
      <div role="status" aria-atomic="true">
        <h2 className="hand__round">
          {name}
          {line.rounds.length > 1 && <span className="hand__alike"> {words.alike(alike, line.rounds.length)}</span>}
        </h2>
        <p className="hand__work">{line.work}.</p>
        {line.count && <p className="hand__count">{countAfter(round, text, voice)}</p>}
      </div>
      {line.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
      <Repeats round={round} />
      {isLast && part.end && <p>{part.end}</p>}
      {next && (
        <p className="quiet">{next.afterRound === round.number ? words.checkNow : words.checkAfter(next.afterRound)}</p>
      )}
      <LitChart current={current} round={round} />
    </>
  );
}

function PartNotes({ part }: { readonly part: PatternPart }) {
  return part.notes.map((note) => <p key={note}>{note}</p>);
}

/** A tap for every repeat of the round, so that an interruption costs nothing. */
function Repeats({ round }: { readonly round: Round }) {
  const words = useText().plan.hand;
  const [count, setCount] = useState(0);
  const repeat = round.steps.reduce((most, step) => (isCounted(step) ? Math.max(most, step.times) : most), 0);
  if (repeat < 2) return null;
  const dots = Array.from({ length: Math.min(repeat, MOST_DOTS) }, (_, dot) => dot);
  return (
    <div className="hand__repeats">
      <button
        type="button"
        className="button hand__repeat"
        onClick={() => setCount(count >= repeat ? 0 : count + 1)}
        aria-label={words.countRepeat}
      >
        <span className="hand__dots" aria-hidden="true">
          {dots.map((dot) => (
            <i key={dot} className={dot * repeat < count * dots.length ? 'hand__dot--worked' : ''} />
          ))}
        </span>
        <span role="status">{words.repeats(count, repeat)}</span>
      </button>
    </div>
  );
}

/** A run of increases is no repeat that one loses count of. */
function isCounted(step: Step): step is Extract<Step, { do: 'repeat' }> {
  return step.do === 'repeat' && !(step.steps.length === 1 && step.steps[0].do === 'increase');
}

const MOST_DOTS = 24;

function LitChart({ current, round }: Pick<RoundInHandProps, 'current' | 'round'>) {
  if (isOwnPiece(round.part) || round.part === 'wall') return null;
  const shows = round.part === 'base' ? 'base' : 'body';
  if (shows === 'body' && current.plan.zones.length === 0) return null;
  return <PlanDrawing className="hand__chart" plan={current.plan} shows={shows} litRound={round.number} />;
}

function Ended({ pattern }: { readonly pattern: Pattern }) {
  const text = useText();
  const place = useRef<HTMLHeadingElement>(null);
  useEffect(() => place.current?.focus(), []);
  return (
    <>
      <h2 ref={place} tabIndex={-1} className="hand__round">
        {text.plan.roundsAll}
      </h2>
      {[...pattern.finishing, ...pattern.care, ...pattern.cautions].map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </>
  );
}
