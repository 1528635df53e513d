import { type FormEvent, useState } from 'react';
import type { Checkpoint, Plan } from '../../sizing/plan.ts';
import { replan } from '../../sizing/replan.ts';
import { rulerRangeText, rulerText } from '../estimate-text.ts';
import { Icon } from '../look/Icon.tsx';
import { LengthField } from '../look/NumberField.tsx';
import { useText } from '../text/text.ts';
import { useSettings } from '../use-settings.ts';
import { type Answer, type PlanProgress, type Reading, RULER_SD_MM, withReading } from './plan-progress.ts';
import { useSay } from './use-say.ts';

interface CheckpointEntryProps {
  readonly checkpoint: Checkpoint;
  readonly plan: Plan;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
}

/** What to measure here, what to expect, and a place to say what it measured. */
export function CheckpointEntry({ checkpoint, plan, progress, onProgress }: CheckpointEntryProps) {
  const plans = useText().plan;
  const words = plans.check;
  const wording = useSettings();
  const say = useSay();
  const [mm, setMm] = useState<number | null>(null);
  const measure = checkpoint.measure === 'width across' ? 'width' : 'height';
  const { expectedMm, goOnMm, afterRound } = checkpoint;
  const expected = rulerText(expectedMm.value, wording);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (mm === null) return;
    const reading: Reading = { afterRound, measure, mm };
    const result = replan(plan, {
      afterRound,
      sdMm: RULER_SD_MM,
      ...(measure === 'width' ? { measuredWidthMm: mm } : { measuredHeightMm: mm }),
    });
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
          <button type="submit" className="button" disabled={mm === null}>
            {words.use}
          </button>
        </form>
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
}

/** What was measured here and what it led to. */
export function ReadingResult({ reading, answer, onTakeBack }: ReadingResultProps) {
  const words = useText().plan.check;
  const wording = useSettings();
  const say = useSay();
  const isRefused = 'refused' in answer;
  const goesOn = !isRefused && answer.advice.action === 'go on';
  return (
    <div className={`note ${goesOn ? '' : isRefused ? 'note--stop' : 'note--warn'}`} role="status">
      <Icon name={goesOn ? 'check' : isRefused ? 'stop' : 'warn'} />
      <div className="stack stack--tight">
        <p>
          {words.read(rulerText(reading.mm, wording))} {isRefused ? words.refused : say(answer.advice.message)}
        </p>
        <button type="button" className="button plan__take-back" onClick={onTakeBack}>
          <Icon name="undo" /> {words.takeBack}
        </button>
      </div>
    </div>
  );
}
