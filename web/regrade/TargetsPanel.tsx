import { useId } from 'react';
import { CONTAINER_LIMITS } from '../../sizing/container.ts';
import { MOST_SIZES } from '../../sizing/regrade/size-set.ts';
import type { Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import { containerOfJob } from '../keep/job-of-record.ts';
import { keptName } from '../keep/kept-name.ts';
import type { ContainerRecord } from '../keep/records.ts';
import { valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { LengthField } from '../ui/NumberField.tsx';
import { aimFor } from './aims.ts';
import { NO_TARGET, type Target } from './draft.ts';
import type { DraftProps } from './RoundsPanel.tsx';
import { useRegradeText } from './regrade-text.ts';

interface TargetsPanelProps extends DraftProps {
  readonly job: Job | null;
  readonly kept: readonly ContainerRecord[];
}

/** The container or containers to make it for: the one in hand, kept ones, or sizes that are typed. */
export function TargetsPanel({ draft, change, job, kept }: TargetsPanelProps) {
  const words = useRegradeText().screen;
  const { targets } = draft;
  const set = (index: number, target: Target) =>
    change({ targets: targets.map((each, other) => (other === index ? target : each)) });
  return (
    <section className="panel stack">
      <h2>{words.forTitle}</h2>
      {targets.map((target, index) => (
        // Sizes have no name of their own, and are only added at the end.
        // biome-ignore lint/suspicious/noArrayIndexKey: as said above
        <div key={index} className="stack stack--tight">
          <TargetFields target={target} onTarget={(next) => set(index, next)} job={job} kept={kept} />
          {targets.length > 1 && (
            <button
              type="button"
              className="button button--quiet"
              onClick={() => change({ targets: targets.filter((_, other) => other !== index) })}
            >
              <Icon name="bin" /> {words.removeSize}
            </button>
          )}
        </div>
      ))}
      {targets.length < MOST_SIZES && (
        <button type="button" className="button" onClick={() => change({ targets: [...targets, NO_TARGET] })}>
          <Icon name="plus" /> {words.addSize}
        </button>
      )}
    </section>
  );
}

interface TargetFieldsProps extends Pick<TargetsPanelProps, 'job' | 'kept'> {
  readonly target: Target;
  readonly onTarget: (target: Target) => void;
}

function TargetFields({ target, onTarget, job, kept }: TargetFieldsProps) {
  const text = useText();
  const words = useRegradeText().screen;
  const settings = useSettings();
  const id = useId();
  const inHand = job && containerOfJob(job) ? job : null;
  const others = kept.filter((record) => record.id !== inHand?.id);
  const aim = target.containerId === null ? null : aimFor(target, job, kept);
  return (
    <>
      {(inHand || others.length > 0) && (
        <div className="field">
          <label htmlFor={id}>{words.which}</label>
          <select
            id={id}
            value={target.containerId ?? ''}
            onChange={(event) => onTarget({ ...target, containerId: event.target.value || null })}
          >
            <option value="">{words.typed}</option>
            {inHand && <option value={inHand.id}>{inHand.label || words.inHand}</option>}
            {others.map((record) => (
              <option key={record.id} value={record.id}>
                {keptName(record, settings.language)}
              </option>
            ))}
          </select>
        </div>
      )}
      {aim ? (
        <p className="number">
          {text.plan.sizes(
            valueText(aim.container.maxDiameterMm, settings),
            valueText(aim.container.heightMm, settings),
          )}
        </p>
      ) : (
        <div className="fields">
          <LengthField
            label={words.across}
            value={target.diameterMm}
            onChange={(diameterMm) => onTarget({ ...target, diameterMm, containerId: null })}
            min={CONTAINER_LIMITS.diameterMm[0]}
            max={CONTAINER_LIMITS.diameterMm[1]}
          />
          <LengthField
            label={words.high}
            value={target.heightMm}
            onChange={(heightMm) => onTarget({ ...target, heightMm, containerId: null })}
            min={CONTAINER_LIMITS.heightMm[0]}
            max={CONTAINER_LIMITS.heightMm[1]}
          />
        </div>
      )}
    </>
  );
}
