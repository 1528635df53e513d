import { type Dispatch, type ReactNode, useState } from 'react';
import { planCarrier } from '../sizing/plan-carrier.ts';
import { renderPlanText } from '../sizing/render-text.ts';
import type { Action, AppState, Job, Step } from './app-state.ts';
import { GaugeView } from './gauge/GaugeView.tsx';
import { gaugeEntryFrom, usableGauge } from './gauge/gauge-entry.ts';
import { KeepPanel } from './keep/KeepPanel.tsx';
import { NO_TAPE, newRecord, type Tape } from './keep/records.ts';
import { storageTrouble } from './keep/storage-trouble.ts';
import { useKeepJob } from './keep/use-keep-job.ts';
import { useRecords, useStore } from './keep/use-store.ts';
import { Icon } from './look/Icon.tsx';
import { Note } from './look/Note.tsx';
import { PhotoStep } from './photo/PhotoStep.tsx';
import { SizesView } from './sizes/SizesView.tsx';
import { sizedContainer } from './sizes/sized-container.ts';
import { TapeEntry } from './sizes/TapeEntry.tsx';
import { useText } from './text/text.ts';
import type { JobWork } from './use-job.ts';
import { useSettings } from './use-settings.ts';

interface JobScreenProps {
  readonly job: Job;
  readonly dispatch: Dispatch<Action>;
}

/** First step: a photo, or two numbers from the tape. */
export function PhotoOrTape({ state, dispatch, work }: { state: AppState; dispatch: Dispatch<Action>; work: JobWork }) {
  const text = useText().shell;
  const [tape, setTape] = useState<Tape | null>(null);
  if (!tape) {
    return (
      <PhotoStep
        activity={state.activity}
        dispatch={dispatch}
        onPhoto={work.openPhoto}
        onTape={() => setTape(NO_TAPE)}
      />
    );
  }
  return (
    <div className="stack">
      <button type="button" className="button button--quiet" onClick={() => setTape(null)}>
        {text.back}
      </button>
      <TapeEntry
        tape={tape}
        onTape={setTape}
        onUse={() => dispatch({ type: 'tape-only', id: crypto.randomUUID(), tape })}
      />
    </div>
  );
}

/** Third step: sizes with their ±. */
export function SizesScreen({ job, dispatch, work }: JobScreenProps & { readonly work: JobWork }) {
  const text = useText();
  const { keepContainer, kept } = useKeepJob(job, work.picture, dispatch);
  return (
    <div className="stack">
      <SizesView
        measurement={measurementOf(job)}
        tape={job.tape}
        onTape={(tape) => dispatch({ type: 'tape', tape })}
        gauge={usableGauge(gaugeEntryFrom(job.gauge))}
      />
      <KeepPanel
        label={job.label}
        onLabel={(label) => dispatch({ type: 'label', label })}
        onKeep={keepContainer}
        action={job.keptAt === null ? text.keep.keepThis : text.keep.keepAgain}
        kept={kept}
      />
      <NextStep to="gauge" dispatch={dispatch}>
        {text.shell.next.gauge}
      </NextStep>
    </div>
  );
}

/** Fourth step: the maker's stitches and yarn. */
export function GaugeScreen({ job, dispatch }: JobScreenProps) {
  const text = useText().shell;
  const { store, reportTrouble } = useStore();
  const entry = gaugeEntryFrom(job.gauge);
  const kept = useRecords('gauge').map(({ id, gauge }) => ({ id, entry: gaugeEntryFrom(gauge) }));
  const keep = () =>
    store
      ?.put({ ...newRecord('gauge', entry.name), gauge: { ...entry } })
      .catch((thrown) => reportTrouble(storageTrouble(thrown).reason));
  return (
    <div className="stack">
      <GaugeView
        entry={entry}
        onEntry={(gauge) => dispatch({ type: 'gauge', gauge })}
        kept={kept}
        onKeep={() => void keep()}
      />
      <NextStep to="plan" dispatch={dispatch}>
        {text.next.plan}
      </NextStep>
    </div>
  );
}

/** Fifth step: the plan. */
export function PlanScreen({ job, dispatch, work }: JobScreenProps & { readonly work: JobWork }) {
  const text = useText();
  const { terms, units } = useSettings();
  const { keepPlan, kept } = useKeepJob(job, work.picture, dispatch);
  const container = sizedContainer(measurementOf(job), job.tape);
  if (!container) return null;
  const result = planCarrier(container, usableGauge(gaugeEntryFrom(job.gauge)));
  if (result.outcome === 'refused') return <Note kind="stop">{result.reason.message}</Note>;
  return (
    <div className="stack">
      <h1>{text.shell.steps.plan}</h1>
      <pre className="plain-plan">{renderPlanText(result.plan, { terms: terms === 'de' ? 'us' : terms, units })}</pre>
      <KeepPanel
        label={job.label}
        onLabel={(label) => dispatch({ type: 'label', label })}
        onKeep={() => keepPlan(container)}
        action={text.keep.keepPlan}
        kept={kept}
      />
    </div>
  );
}

function measurementOf(job: Job) {
  return job.result?.outcome === 'measured' ? job.result.measurement : null;
}

interface NextStepProps {
  readonly to: Step;
  readonly dispatch: Dispatch<Action>;
  readonly children: ReactNode;
}

function NextStep({ to, dispatch, children }: NextStepProps) {
  return (
    <button type="button" className="button button--main" onClick={() => dispatch({ type: 'go', screen: to })}>
      {children} <Icon name="arrow" />
    </button>
  );
}
