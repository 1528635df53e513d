import { useId } from 'react';
import { CONTAINER_LIMITS } from '../../sizing/container.ts';
import { writeOwnPattern } from '../../sizing/regrade/own-pattern.ts';
import { ownPatternOf } from '../../sizing/regrade/regrade.ts';
import { useSettings } from '../app/use-settings.ts';
import { FIRST_GAUGE_ENTRY, type GaugeEntry, usableGauge } from '../gauge/gauge-entry.ts';
import { containerOfJob, jobOfPlan } from '../keep/job-of-record.ts';
import { keptName } from '../keep/kept-name.ts';
import type { PlanRecord } from '../keep/records.ts';
import { useAllRecords } from '../keep/use-store.ts';
import { currentPlan } from '../plan/current-plan.ts';
import { choicesFrom, NOT_STARTED } from '../plan/plan-progress.ts';
import { LengthField } from '../ui/NumberField.tsx';
import type { Draft } from './draft.ts';
import { useRegradeText } from './regrade-text.ts';

export interface DraftProps {
  readonly draft: Draft;
  readonly change: (part: Partial<Draft>) => void;
}

/** The rounds, typed or taken from a kept plan, and the container they are for. */
export function RoundsPanel({ draft, change, entry }: DraftProps & { readonly entry: GaugeEntry }) {
  const words = useRegradeText().screen;
  const id = useId();
  const plans = useAllRecords().plan;
  const { madeFor } = draft;
  return (
    <section className="panel stack">
      <div className="field">
        <label htmlFor={`${id}-rounds`}>{words.rounds}</label>
        <textarea
          id={`${id}-rounds`}
          rows={3}
          spellCheck={false}
          autoCapitalize="off"
          maxLength={2000}
          aria-describedby={`${id}-example ${id}-parts`}
          value={draft.rounds}
          onChange={(event) => change({ rounds: event.target.value })}
        />
        <p className="small" id={`${id}-example`}>
          {words.example}
        </p>
        <p className="quiet small" id={`${id}-parts`}>
          {words.parts}
        </p>
      </div>
      {plans.length > 0 && <KeptPlans plans={plans} onTake={change} />}
      <h2>{words.madeFor}</h2>
      <div className="fields">
        <LengthField
          label={words.across}
          value={madeFor.diameterMm}
          onChange={(diameterMm) => change({ madeFor: { ...madeFor, diameterMm } })}
          min={CONTAINER_LIMITS.diameterMm[0]}
          max={CONTAINER_LIMITS.diameterMm[1]}
        />
        <LengthField
          label={words.high}
          value={madeFor.heightMm}
          onChange={(heightMm) => change({ madeFor: { ...madeFor, heightMm } })}
          min={CONTAINER_LIMITS.heightMm[0]}
          max={CONTAINER_LIMITS.heightMm[1]}
        />
      </div>
      {entry.source === 'swatch' && (
        <label className="row">
          <input
            type="checkbox"
            checked={draft.gaugeKnown}
            onChange={(event) => change({ gaugeKnown: event.target.checked })}
          />
          {words.ownGauge}
        </label>
      )}
    </section>
  );
}

function KeptPlans({
  plans,
  onTake,
}: {
  readonly plans: readonly PlanRecord[];
  readonly onTake: DraftProps['change'];
}) {
  const words = useRegradeText().screen;
  const { language } = useSettings();
  const id = useId();
  const take = (planId: string) => {
    const rounds = roundsOfPlan(plans.find((each) => each.id === planId));
    if (rounds) onTake(rounds);
  };
  return (
    <div className="field">
      <label htmlFor={id}>{words.takeKept}</label>
      <select id={id} value="" onChange={(event) => take(event.target.value)}>
        <option value="">{words.choose}</option>
        {plans.map((plan) => (
          <option key={plan.id} value={plan.id}>
            {keptName(plan, language)}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A kept plan's counts as she would write them, with the container it was made for; null where it cannot be made. */
export function roundsOfPlan(record: PlanRecord | undefined): Pick<Draft, 'rounds' | 'madeFor'> | null {
  if (!record) return null;
  const job = jobOfPlan(record, null);
  const container = containerOfJob(job);
  if (!container) return null;
  const gauge = usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY);
  const current = currentPlan(container, gauge, job.choices ?? choicesFrom(null), job.progress ?? NOT_STARTED);
  if (current.outcome !== 'planned') return null;
  const tenth = (mm: number) => Math.round(mm * 10) / 10;
  return {
    rounds: writeOwnPattern(ownPatternOf(current.plan)),
    madeFor: { diameterMm: tenth(container.baseDiameterMm.value), heightMm: tenth(container.heightMm.value) },
  };
}
