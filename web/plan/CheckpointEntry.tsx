import { type FormEvent, useState } from 'react';
import type { Checkpoint, Plan, Round } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { pieceAfter } from '../flat-piece/verdict.ts';
import { lengthText, rulerRangeText, rulerText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { LengthField } from '../ui/NumberField.tsx';
import { type Answer, replanWith } from './current-plan.ts';
import { type PlanProgress, type Reading, withReading } from './plan-progress.ts';
import { useSay, useVoice } from './use-voice.ts';
import { adviceText } from './words/advice-text.ts';
import { refusalText } from './words/refusal-words.ts';

/** A piece of work to photograph instead of measuring it with a ruler. */
export interface WorkToPhotograph {
  readonly piece: 'disc' | 'tube';
  readonly rounds: number;
  readonly stitches: number;
}

interface CheckpointEntryProps {
  readonly checkpoint: Checkpoint;
  readonly round: Round;
  readonly plan: Plan;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
  readonly onPhotograph: (work: WorkToPhotograph) => void;
}

/** What to measure here, what to expect, and a place to say what it measured. */
export function CheckpointEntry(props: CheckpointEntryProps) {
  const { checkpoint, round, plan, progress, onProgress, onPhotograph } = props;
  const text = useText();
  const plans = text.plan;
  const words = plans.check;
  const wording = useSettings();
  const say = useSay();
  const [mm, setMm] = useState<number | null>(null);
  const measure = checkpoint.measure === 'width across' ? 'width' : 'height';
  const { expectedMm, goOnMm, afterRound } = checkpoint;
  const expected = rulerText(expectedMm.value, wording);
  const piece = pieceAfter(round);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (mm === null) return;
    const reading: Reading = { afterRound, measure, mm };
    const result = replanWith(plan, reading);
    onProgress(withReading(progress, reading, result.outcome === 'planned' ? result.advice : null));
  };
  return (
    <details className="plan__check" open={progress.roundsDone === afterRound}>
      <summary>
        <span>
          {words.title(measure === 'width' ? plans.across(expected) : plans.high(expected))}
          <span className="plan__check-range">{words.goOn(rulerRangeText(goOnMm, wording))}</span>
        </span>
      </summary>
      <div className="stack stack--tight">
        <p>{words[measure]}</p>
        <form className="plan__check-form" onSubmit={submit}>
          <LengthField
            label={measure === 'width' ? words.mineAcross : words.mineHigh}
            value={mm}
            onChange={setMm}
            min={Math.round(expectedMm.value * 0.4)}
            max={Math.round(expectedMm.value * 2.5)}
          />
          <button type="submit" className="button button--main" disabled={mm === null}>
            {words.use}
          </button>
        </form>
        {piece && (
          <button
            type="button"
            className="button plan__take-back"
            onClick={() => onPhotograph({ piece, rounds: round.number, stitches: round.stitches })}
          >
            <Icon name="camera" /> {text.work.photograph[piece]}
          </button>
        )}
        <p className="small">
          <strong>{words.less}</strong> {say(checkpoint.ifLess)}
        </p>
        <p className="small">
          <strong>{words.more}</strong> {say(checkpoint.ifMore)}
        </p>
      </div>
    </details>
  );
}

interface ReadingResultProps {
  readonly reading: Reading;
  readonly answer: Answer;
  readonly onTakeBack: () => void;
  readonly onConfirm: () => void;
}

/** What was measured here and what it led to. */
export function ReadingResult({ reading, answer, onTakeBack, onConfirm }: ReadingResultProps) {
  const text = useText();
  const words = text.plan.check;
  const wording = useSettings();
  const voice = useVoice();
  const isRefused = 'refused' in answer;
  const goesOn = !isRefused && answer.advice.action === 'go on';
  return (
    <div className={`note ${goesOn ? '' : isRefused ? 'note--stop' : 'note--warn'}`} role="status">
      <Icon name={goesOn ? 'check' : isRefused ? 'stop' : 'warn'} />
      <div className="stack stack--tight">
        <p>
          {reading.sdMm === undefined
            ? words.read(rulerText(reading.mm, wording))
            : text.work.readPhoto(lengthText({ value: reading.mm, sd: reading.sdMm }, wording))}{' '}
          {isRefused ? refusalText(answer.refused, text.planRefusals, voice) : adviceText(answer.advice, words, voice)}
        </p>
        {isRefused && answer.refused.code === 'unlikely-reading' && (
          <button type="button" className="button plan__take-back" onClick={onConfirm}>
            <Icon name="check" /> {words.confirm}
          </button>
        )}
        <button type="button" className="button plan__take-back" onClick={onTakeBack}>
          <Icon name="undo" /> {words.takeBack}
        </button>
      </div>
    </div>
  );
}
