import type { Measurement } from '../../vision/measurement.ts';
import { useSettings } from '../app/use-settings.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import type { Tape } from '../keep/records.ts';
import { lengthText, spreadText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { LengthField } from '../ui/NumberField.tsx';
import { TAPE_AROUND_SD_MM, TAPE_HEIGHT_SD_MM, type TapeCheck, tapeChecks } from './tape-check.ts';
import { TAPE_LIMITS } from './tape-limits.ts';

interface TapeComparisonProps {
  readonly measurement: Measurement;
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
}

/** The fold that it is in. */
export const TAPE_FOLD = 'tape';

/** A tape's numbers beside the photo's: do they agree, and what do both say together. */
export function TapeComparison({ measurement, tape, onTape }: TapeComparisonProps) {
  const words = useText().sizes;
  const wording = useSettings();
  return (
    <>
      <p className="quiet">{words.tapeLead}</p>
      <div className="fields">
        <LengthField
          metric="cm"
          label={words.tapeAround}
          value={tape.circumferenceMm}
          onChange={(circumferenceMm) => onTape({ ...tape, circumferenceMm })}
          {...TAPE_LIMITS.around}
        />
        <LengthField
          metric="cm"
          label={words.tapeBase}
          value={tape.baseCircumferenceMm}
          onChange={(baseCircumferenceMm) => onTape({ ...tape, baseCircumferenceMm })}
          {...TAPE_LIMITS.around}
        />
        <LengthField
          metric="cm"
          label={words.tapeHeight}
          value={tape.heightMm}
          onChange={(heightMm) => onTape({ ...tape, heightMm })}
          {...TAPE_LIMITS.height}
        />
      </div>
      <div className="stack" aria-live="polite">
        {tapeChecks(measurementToContainer(measurement), tape).map((check) => (
          <CheckResult key={check.size} check={check} />
        ))}
      </div>
      <p className="quiet small">
        {words.tapeSd(
          spreadText({ value: 0, sd: TAPE_AROUND_SD_MM }, wording),
          spreadText({ value: 0, sd: TAPE_HEIGHT_SD_MM }, wording),
        )}
      </p>
    </>
  );
}

function CheckResult({ check }: { readonly check: TapeCheck }) {
  const words = useText().sizes;
  const wording = useSettings();
  const agree = check.verdict === 'agree';
  return (
    <div className={`note ${agree ? '' : check.verdict === 'apart' ? 'note--warn' : 'note--stop'}`}>
      <Icon name={agree ? 'check' : check.verdict === 'apart' ? 'warn' : 'stop'} />
      <div className="stack stack--tight">
        <strong>
          {words.checkNames[check.size]}: {words.verdicts[check.verdict]}
        </strong>
        <dl className="sizes__check">
          <dt>{words.photoSays}</dt>
          <dd className="number">{lengthText(check.photo, wording)}</dd>
          <dt>{words.tapeSays}</dt>
          <dd className="number">{lengthText(check.tape, wording)}</dd>
          <dt>{words.togetherSays}</dt>
          <dd className="number">
            <strong>{lengthText(check.together, wording)}</strong>
          </dd>
        </dl>
      </div>
    </div>
  );
}
