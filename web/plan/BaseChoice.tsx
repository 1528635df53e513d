import { useId } from 'react';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { rulerText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { useSay } from './use-voice.ts';
import { baseName } from './words/pattern.ts';

interface BaseChoiceProps {
  readonly plan: Plan;
  /** A reading is folded in, so that the base is what is being worked. */
  readonly isMeasured: boolean;
  readonly onChoose: (candidate: number) => void;
}

/** Reasons said of a base that is not chosen: how long its rim is and how flat it lies. */
const SHORT_REASONS = 2;

/** The bases offered, each with its reasons. */
export function BaseChoice({ plan, isMeasured, onChoose }: BaseChoiceProps) {
  const text = useText();
  const words = text.plan;
  const wording = useSettings();
  const say = useSay();
  const id = useId();
  if (isMeasured) return <p className="quiet">{words.basesWorked}</p>;
  const chosen = Math.min(plan.choices.baseCandidate, plan.candidates.length - 1);
  return (
    <fieldset className="plan__bases">
      <legend>
        <h2>{words.basesTitle}</h2>
      </legend>
      {plan.candidates.map((candidate, index) => (
        <label key={candidate.aims.join()} className="panel plan__base">
          <input
            type="radio"
            name={id}
            checked={index === chosen}
            onChange={() => onChoose(index)}
            aria-describedby={`${id}-${index}`}
          />
          <span>
            <strong>
              {words.baseName(candidate.stitchesAround, candidate.rounds)} ({baseName(candidate.aims, text)})
            </strong>
            <span id={`${id}-${index}`} className="small plan__reasons">
              {words.baseFacts(candidate.start, rulerText(candidate.widthMm.value, wording))}{' '}
              {candidate.reasons
                .slice(0, index === chosen ? undefined : SHORT_REASONS)
                .map(say)
                .join(' ')}
            </span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
