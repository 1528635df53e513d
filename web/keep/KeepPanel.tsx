import { useCallback, useId } from 'react';
import type { Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { containerRecordOf, planRecordOf } from './job-of-record.ts';
import { keptName } from './kept-name.ts';
import { type AnyRecord, holdTheSame } from './records.ts';
import type { Store } from './store.ts';
import { useAsked } from './use-store.ts';

interface KeepPanelProps {
  readonly job: Job;
  readonly onLabel: (label: string) => void;
  /** The picture cannot be covered for sure and stays out. */
  readonly withoutPicture: boolean;
}

/** Says what the job in hand is kept as, and lets the maker name it. It is kept without being asked. */
export function KeepPanel({ job, onLabel, withoutPicture }: KeepPanelProps) {
  const text = useText().keep;
  const { language } = useSettings();
  const id = useId();
  const isKept = useIsKept(job);
  const name = keptName(job, language);
  return (
    <div className="stack stack--tight no-print">
      <p className="row" role="status">
        {isKept && (
          <>
            <Icon name="save" /> {text.keptAs(name)}
          </>
        )}
      </p>
      <div className="field">
        <label htmlFor={id}>{text.labelField}</label>
        <input
          id={id}
          type="text"
          value={job.label}
          maxLength={200}
          placeholder={keptName({ ...job, label: '' }, language)}
          aria-describedby={`${id}-hint`}
          onChange={(event) => onLabel(event.target.value)}
        />
        <span className="hint" id={`${id}-hint`}>
          {text.labelHint}
        </span>
      </div>
      {withoutPicture && <Note kind="info">{text.pictureLeftOut}</Note>}
    </div>
  );
}

/** Whether the store holds this job as it is, asked of the store itself. */
function useIsKept(job: Job): boolean {
  return useAsked(
    false,
    useCallback(
      async (store: Store) => {
        const records: readonly (AnyRecord | null)[] = [containerRecordOf(job), planRecordOf(job)];
        const answers = await Promise.all(
          records.map(async (record) => {
            if (!record) return true;
            const kept = await store.get(record.kind, record.id);
            return kept !== null && holdTheSame(kept, record);
          }),
        );
        return records.some((record) => record !== null) && answers.every((held) => held);
      },
      [job],
    ),
  );
}
