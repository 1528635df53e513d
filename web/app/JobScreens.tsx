import type { Dispatch, ReactNode } from 'react';
import { newWorkCheck, type WorkCheck, type WorkToCheck } from '../flat-piece/work-check.ts';
import { GaugeView } from '../gauge/GaugeView.tsx';
import { FIRST_GAUGE_ENTRY, type GaugeEntry, gaugeEntryFrom, usableGauge } from '../gauge/gauge-entry.ts';
import { KeepPanel } from '../keep/KeepPanel.tsx';
import { newRecord, type Tape } from '../keep/records.ts';
import { storageTrouble } from '../keep/storage-trouble.ts';
import { useKeepJob } from '../keep/use-keep-job.ts';
import { useRecords, useStore } from '../keep/use-store.ts';
import { FurtherPhotos } from '../photo/FurtherPhotos.tsx';
import type { JobWork } from '../place/use-job.ts';
import { PlanView } from '../plan/PlanView.tsx';
import { choicesFrom, NOT_STARTED } from '../plan/plan-progress.ts';
import { SizesView } from '../sizes/SizesView.tsx';
import { sizedContainer } from '../sizes/sized-container.ts';
import { type FinishedCarrier, finishedCarrierFrom } from '../stall/finished-carrier.ts';
import { StockView } from '../stall/StockView.tsx';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { type Action, type Job, measurementOf, type Step } from './app-state.ts';
import { useSettings } from './use-settings.ts';

interface JobScreenProps {
  readonly job: Job;
  readonly dispatch: Dispatch<Action>;
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
        gauge={usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY)}
      />
      {job.result?.outcome === 'measured' && (
        <FurtherPhotos
          first={job.result.measurement}
          photos={job.furtherPhotos}
          key={job.id}
          onRemove={(photo) => dispatch({ type: 'without-further-photo', photo })}
          measure={work.measureOther}
          busy={work.adding}
          joining={work.joining}
        />
      )}
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
  const lookAt = useLookAtWork(job, dispatch);
  const entry = job.gauge ?? FIRST_GAUGE_ENTRY;
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
        onPhotograph={() => lookAt({ piece: 'swatch', rounds: entry.swatch.rounds, stitches: entry.swatch.stitches })}
      />
      <NextStep to="plan" dispatch={dispatch}>
        {text.next.plan}
      </NextStep>
    </div>
  );
}

/** Fifth step: the plan, followed round by round. */
export function PlanScreen({ job, dispatch, work }: JobScreenProps & { readonly work: JobWork }) {
  const text = useText();
  const { keepPlan, kept } = useKeepJob(job, work.picture, dispatch);
  const addToStock = useAddToStock(job.planId);
  const lookAt = useLookAtWork(job, dispatch);
  const container = sizedContainer(measurementOf(job), job.tape);
  if (!container) return null;
  return (
    <div className="stack">
      <PlanView
        label={job.label}
        container={container}
        gauge={usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY)}
        choices={job.choices ?? choicesFrom(null)}
        onChoices={(choices) => dispatch({ type: 'choices', choices })}
        progress={job.progress ?? NOT_STARTED}
        onProgress={(progress) => dispatch({ type: 'progress', progress })}
        onPhotograph={lookAt}
        onFinished={(carrier) => addToStock(job.label, carrier)}
      />
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

/** At the stall: which finished carrier fits the container in front of us. */
export function StallScreen({ job, lastGauge, dispatch }: StallScreenProps) {
  const { store, reportTrouble } = useStore();
  const addToStock = useAddToStock(null);
  const records = useRecords('carrier');
  const items = records.flatMap(({ id, label, carrier, soldAt }) => {
    const finished = finishedCarrierFrom(carrier);
    return finished && soldAt === null ? [{ id, label, carrier: finished }] : [];
  });
  const markSold = (id: string, soldAt: number | null) => {
    const record = records.find((each) => each.id === id);
    if (!record || !store) return;
    store.put({ ...record, soldAt }).catch((thrown) => reportTrouble(storageTrouble(thrown).reason));
  };
  const plan = (tape: Tape | null) => {
    if (tape) dispatch({ type: 'tape-only', id: crypto.randomUUID(), tape });
    dispatch({ type: 'go', screen: 'plan' });
  };
  return (
    <StockView
      container={job && sizedContainer(measurementOf(job), job.tape)}
      items={items}
      gauge={usableGauge(job?.gauge ?? lastGauge ?? FIRST_GAUGE_ENTRY)}
      choices={job?.choices ?? choicesFrom(null)}
      onSnap={() => dispatch({ type: 'go', screen: 'photo' })}
      onPlan={plan}
      onSold={(id) => markSold(id, Date.now())}
      onUnsold={(id) => markSold(id, null)}
      onAdd={(label, carrier) => void addToStock(label, carrier)}
    />
  );
}

interface StallScreenProps {
  readonly job: Job | null;
  readonly lastGauge: GaugeEntry | null;
  readonly dispatch: Dispatch<Action>;
}

/** Puts a finished carrier into the stock; false when it could not be kept. */
function useAddToStock(planId: string | null) {
  const { store, reportTrouble } = useStore();
  return async (label: string, carrier: FinishedCarrier): Promise<boolean> => {
    if (!store) return false;
    try {
      await store.put({ ...newRecord('carrier', label), carrier: { ...carrier }, planId, soldAt: null });
      return true;
    } catch (thrown) {
      reportTrouble(storageTrouble(thrown).reason);
      return false;
    }
  };
}

/** Begins a look at the work in hand, or goes on with one of the same piece that was left. */
function useLookAtWork(
  job: Job,
  dispatch: Dispatch<Action>,
): (work: Omit<WorkToCheck, 'reference' | 'thicknessMm'>) => void {
  const { reference } = useSettings();
  const { thicknessMm = null } = job.gauge ?? FIRST_GAUGE_ENTRY;
  return (asked) => {
    const isSame = (work: WorkCheck) => work.piece === asked.piece && work.rounds === asked.rounds;
    dispatch({
      type: 'work',
      change: (work) => (work && isSame(work) ? work : newWorkCheck({ ...asked, thicknessMm, reference })),
    });
    dispatch({ type: 'go', screen: 'work' });
  };
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
