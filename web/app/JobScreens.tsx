import { type Dispatch, useMemo, useState } from 'react';
import type { Plan } from '../../sizing/plan.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import type { CarrierPhoto } from '../carrier-view/photo-look.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { newPhotoId } from '../engine/measuring.ts';
import { newWorkCheck, type WorkCheck, type WorkToCheck } from '../flat-piece/work-check.ts';
import { GaugeView } from '../gauge/GaugeView.tsx';
import { FIRST_GAUGE_ENTRY, usableGauge } from '../gauge/gauge-entry.ts';
import { YarnButton } from '../gauge/YarnButton.tsx';
import { containerOfJob, jobOfContainer } from '../keep/job-of-record.ts';
import { KeepPanel } from '../keep/KeepPanel.tsx';
import { newRecord } from '../keep/records.ts';
import type { Store } from '../keep/store.ts';
import type { Tape } from '../keep/tape.ts';
import { useAsked, useAttempt, useRecords, useStore } from '../keep/use-store.ts';
import { CustomerFold, NO_ORDER } from '../orders/CustomerFold.tsx';
import { FurtherPhotos } from '../photo/FurtherPhotos.tsx';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { ContainerInPhoto } from '../place/ContainerInPhoto.tsx';
import { PlanView } from '../plan/PlanView.tsx';
import { choicesFrom, NOT_STARTED } from '../plan/plan-progress.ts';
import { AllSizes, MainSizes, Meaning, shownSizes } from '../sizes/AllSizes.tsx';
import { ProfileFigure } from '../sizes/ProfileFigure.tsx';
import { TAPE_FOLD, TapeComparison } from '../sizes/TapeComparison.tsx';
import { TapeDoubt } from '../sizes/TapeDoubt.tsx';
import { type Asked, dayBegan } from '../stall/day-sheet.ts';
import type { FinishedCarrier } from '../stall/finished-carrier.ts';
import { pieceStill, smallPicture } from '../stall/piece-still.ts';
import { type StallPhoto, StallView, type StallViewProps } from '../stall/StallView.tsx';
import type { OnPicture } from '../stall/touching.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Sheet } from '../ui/Sheet.tsx';
import { useObjectUrl } from '../ui/use-object-url.ts';
import { type Action, type Activity, type AppState, isCardPlaced, type Job, measurementOf } from './app-state.ts';
import { goBack } from './use-history.ts';
import { useSettings } from './use-settings.ts';

interface JobScreenProps {
  readonly job: Job;
  readonly dispatch: Dispatch<Action>;
}

interface SizesScreenProps extends JobScreenProps {
  readonly activity: Activity;
  readonly work: JobPhotos;
}

/** Second place: the photo with the drawing on it, the sizes, the way on, and the rest folded. */
export function SizesScreen({ job, activity, dispatch, work }: SizesScreenProps) {
  const text = useText();
  const measurement = measurementOf(job);
  const container = containerOfJob(job);
  const sizes = container && shownSizes(container, measurement);
  const old = activity.kind === 'measuring';
  const carrierPhoto = useCarrierPhoto(job, work);
  const customer = <CustomerFold key={job.id} job={job} dispatch={dispatch} work={work} photo={carrierPhoto} />;
  const folds = container && sizes && (
    <>
      {!job.sent && customer}
      {measurement && (
        <Fold title={text.sizes.tapeTitle} icon="tape" id={TAPE_FOLD}>
          <TapeComparison
            measurement={measurement}
            tape={job.tape}
            onTape={(tape) => dispatch({ type: 'tape', tape })}
          />
        </Fold>
      )}
      {job.result?.outcome === 'measured' && (
        <Fold title={text.photo.further.title} icon="photos">
          <FurtherPhotos
            first={job.result.measurement}
            photos={job.furtherPhotos}
            key={job.id}
            onRemove={(photo) => dispatch({ type: 'without-further-photo', photo })}
            measure={work.measureOther}
            busy={work.adding}
            joining={work.joining}
          />
        </Fold>
      )}
      <Fold title={text.sizes.allTitle} icon="ruler">
        <AllSizes container={container} sizes={sizes} measurement={measurement} tape={job.tape} />
      </Fold>
      <Fold title={text.sizes.meaningTitle} icon="guide">
        <Meaning sizes={sizes} gauge={usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY)} />
      </Fold>
      <Fold title={text.keep.foldContainer} icon="save">
        <KeepPanel
          job={job}
          onLabel={(label) => dispatch({ type: 'label', label })}
          withoutPicture={isWithoutPicture(job, work)}
        />
      </Fold>
    </>
  );
  const wayOn = sizes && (
    <div className="way-on">
      <button type="button" className="button button--main" onClick={() => dispatch({ type: 'go', screen: 'plan' })}>
        {text.shell.next.plan} <Icon name="arrow" />
      </button>
    </div>
  );
  const numbers = (live: MeasureResult | null) => {
    if (live?.outcome === 'measured') {
      const { measurement } = live;
      return <MainSizes sizes={shownSizes(measurementToContainer(measurement), measurement)} old={false} />;
    }
    return sizes && <MainSizes sizes={sizes} old={old} />;
  };
  return (
    <>
      <h1 className="visually-hidden">{text.sizes.title}</h1>
      {job.photo ? (
        <ContainerInPhoto
          job={{ ...job, photo: job.photo }}
          activity={activity}
          work={work}
          dispatch={dispatch}
          numbers={numbers}
          asks={job.sent && job.result && customer}
          wayOn={wayOn}
        >
          {folds || (job.result && !job.sent && customer)}
        </ContainerInPhoto>
      ) : (
        <div className="sizes__taped">
          {container && <ProfileFigure container={container} />}
          <div className="stack">
            {numbers(null)}
            <div>{folds}</div>
            {wayOn}
          </div>
        </div>
      )}
    </>
  );
}

interface PlanScreenProps extends JobScreenProps {
  readonly work: JobPhotos;
  /** The sheet for yarn and gauge is up. */
  readonly gaugeOpen: boolean;
}

/** Third place: the plan, followed round by round; yarn and gauge on a sheet over it. */
export function PlanScreen({ job, dispatch, work, gaugeOpen }: PlanScreenProps) {
  const text = useText();
  const addToStock = useAddToStock(job.planBegun ? job.planId : null);
  const lookAt = useLookAtWork(job, dispatch);
  const photo = useCarrierPhoto(job, work);
  const container = containerOfJob(job);
  const measurement = measurementOf(job);
  const [naming, setNaming] = useState(false);
  if (!container) return null;
  return (
    <div className="stack">
      <YarnButton entry={job.gauge ?? FIRST_GAUGE_ENTRY} onPress={() => dispatch({ type: 'go', screen: 'gauge' })} />
      {measurement && (
        <TapeDoubt
          photo={measurementToContainer(measurement)}
          tape={job.tape}
          onTape={(tape) => dispatch({ type: 'tape', tape })}
          onReadAgain={() => dispatch({ type: 'go', screen: 'sizes' })}
        />
      )}
      <PlanView
        label={job.label}
        naming={
          <button
            type="button"
            className={`button button--quiet ${job.label ? 'button--icon' : ''}`}
            aria-label={job.label ? text.keep.rename : undefined}
            onClick={() => setNaming(true)}
          >
            <Icon name="tag" /> {!job.label && text.keep.foldContainer}
          </button>
        }
        container={container}
        photo={photo}
        gauge={usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY)}
        choices={job.choices ?? choicesFrom(null)}
        onChoices={(choices) => dispatch({ type: 'choices', choices })}
        progress={job.progress ?? NOT_STARTED}
        onProgress={(progress) => dispatch({ type: 'progress', progress })}
        onPhotograph={lookAt}
        onFinished={(carrier, plan) => addToStock(job.label, carrier, plan)}
      />
      <CustomerFold key={job.id} job={job} dispatch={dispatch} work={work} photo={photo} />
      {naming && (
        <Sheet title={text.keep.foldPlan} onClose={() => setNaming(false)}>
          <KeepPanel
            job={job}
            onLabel={(label) => dispatch({ type: 'label', label })}
            withoutPicture={isWithoutPicture(job, work)}
          />
        </Sheet>
      )}
      {gaugeOpen && <GaugeSheet job={job} dispatch={dispatch} />}
    </div>
  );
}

/** Which yarn, which hook: over the plan, which is redrawn beneath with every change. */
function GaugeSheet({ job, dispatch }: JobScreenProps) {
  const text = useText();
  const { store } = useStore();
  const attempt = useAttempt();
  const lookAt = useLookAtWork(job, dispatch);
  const entry = job.gauge ?? FIRST_GAUGE_ENTRY;
  const kept = useRecords('gauge').map(({ id, gauge }) => ({ id, entry: gauge }));
  const keep = () => store && attempt(store.put({ ...newRecord('gauge', entry.name), gauge: { ...entry } }));
  const close = () => goBack(() => dispatch({ type: 'go', screen: 'plan' }));
  return (
    <Sheet
      title={text.gauge.title}
      onClose={close}
      foot={
        <button type="button" className="button button--main button--wide" onClick={close}>
          {text.gauge.use}
        </button>
      }
    >
      <GaugeView
        entry={entry}
        onEntry={(gauge) => dispatch({ type: 'gauge', gauge })}
        kept={kept}
        onKeep={() => void keep()}
        onPhotograph={() => lookAt({ piece: 'swatch', rounds: entry.swatch.rounds, stitches: entry.swatch.stitches })}
      />
    </Sheet>
  );
}

/** At the stall: which finished carrier fits the container in front of us. */
export function StallScreen({ state, work, dispatch, onPhoto }: StallScreenProps) {
  const { job, activity, lastGauge } = state;
  const { store } = useStore();
  const attempt = useAttempt();
  const addToStock = useAddToStock(null);
  const records = useRecords('carrier');
  const asked = useAsked<readonly Asked[]>(NOBODY_ASKED, askedToday);
  const change: StallViewProps['onChange'] = (id, { soldAt, reservedFor }) => {
    const record = records.find((each) => each.id === id);
    if (!record || !store) return;
    const carrier = { ...record.carrier, reservedFor: reservedFor ?? record.carrier.reservedFor };
    void attempt(store.put({ ...record, carrier, soldAt: soldAt === undefined ? record.soldAt : soldAt }));
  };
  const picture: OnPicture = async ({ id }, photo, withoutCard) => {
    const known = { id: newPhotoId(), source: photo };
    const places = withoutCard ? [] : await work.cardsIn(known);
    if (!places) return 'failed';
    if (places.length === 0 && !withoutCard) return 'no-card';
    const covered = await work.coverPicture(known, places);
    const small = covered && (await smallPicture(covered.picture));
    if (!small || !store) return 'failed';
    const write = store.write({ records: [], picture: { containerId: id, blanked: small, original: null } });
    return (await attempt(write)) ? 'kept' : 'failed';
  };
  const promised = useAsked(NONE_PROMISED, promisedDays);
  const plan = (tape: Tape | null, due: string | null) => {
    if (tape) dispatch({ type: 'tape-only', id: crypto.randomUUID(), tape });
    if (due) dispatch({ type: 'order', order: { ...NO_ORDER, ...(tape ? null : job?.order), due } });
    dispatch({ type: 'go', screen: 'plan' });
  };
  return (
    <StallView
      photo={stallPhoto(job, activity, work, useObjectUrl(work.picture?.blanked ?? null))}
      pieces={records}
      asked={asked}
      gauge={usableGauge(job?.gauge ?? lastGauge ?? FIRST_GAUGE_ENTRY)}
      choices={job?.choices ?? choicesFrom(null)}
      promised={promised}
      onPhoto={onPhoto}
      onPutRight={() => dispatch({ type: 'go', screen: 'sizes' })}
      onPlan={plan}
      onChange={change}
      onAdd={(label, carrier, plan, count) => void addToStock(label, carrier, plan, count)}
      onPicture={picture}
    />
  );
}

interface StallScreenProps {
  readonly state: AppState;
  readonly work: JobPhotos;
  readonly dispatch: Dispatch<Action>;
  readonly onPhoto: (file: File) => void;
}

const NONE_PROMISED: readonly (string | null)[] = [];

/** Days that open orders are promised for; null where none was agreed. */
async function promisedDays(store: Store): Promise<readonly (string | null)[]> {
  return (await store.list('container')).flatMap(({ order }) => (order && order.doneAt === null ? [order.due] : []));
}

const NOBODY_ASKED: readonly Asked[] = [];

/** Whose container was measured today. Only its sizes are held: a day is long, and a measurement large. */
async function askedToday(store: Store): Promise<readonly Asked[]> {
  const began = dayBegan(Date.now());
  return (await store.list('container'))
    .filter(({ createdAt }) => createdAt >= began)
    .flatMap((record) => {
      const container = containerOfJob(jobOfContainer(record));
      return container ? [{ at: record.createdAt, container }] : [];
    });
}

/** The photo in hand as the stall shows it, whose screen is turned to the customer; null where there is none. */
function stallPhoto(
  job: Job | null,
  { kind }: Activity,
  { picture }: JobPhotos,
  coveredUrl: string | null,
): StallPhoto | null {
  const shown = { url: coveredUrl ?? picture?.url ?? null, isCovered: coveredUrl !== null };
  if (kind === 'opening') return { url: null, isCovered: false, state: 'measuring', container: null };
  if (!job?.photo) return null;
  const container = containerOfJob(job);
  const measuring = kind === 'measuring' || (job.result === null && kind === 'idle');
  return { ...shown, state: measuring ? 'measuring' : container ? 'measured' : 'refused', container };
}

/** The photo on screen with its card covered, and what was measured in it: to draw the carrier into. */
function useCarrierPhoto(job: Job, work: JobPhotos): CarrierPhoto | null {
  const blanked = work.picture?.blanked;
  const measurement = job.result?.outcome === 'measured' ? job.result.measurement : null;
  const { widthPx, heightPx } = job.photo ?? {};
  return useMemo(
    () => (blanked && measurement && widthPx && heightPx ? { blanked, measurement, widthPx, heightPx } : null),
    [blanked, measurement, widthPx, heightPx],
  );
}

/** A photo in which nothing was found or placed for sure has no picture that may be kept. */
function isWithoutPicture(job: Job, { picture }: JobPhotos): boolean {
  return picture?.original != null && !isCardPlaced(job);
}

/** Puts finished carriers into the stock, with the picture of them as planned; false when they could not be kept. */
function useAddToStock(planId: string | null) {
  const { store } = useStore();
  const attempt = useAttempt();
  return async (label: string, carrier: FinishedCarrier, plan: Plan, count = 1): Promise<boolean> => {
    if (!store) return false;
    const hang = async () => {
      const blanked = await pieceStill(plan, carrier.colour);
      for (let piece = 0; piece < count; piece++) {
        const record = { ...newRecord('carrier', label), carrier: { ...carrier }, planId, soldAt: null };
        const picture = blanked && { containerId: record.id, blanked, original: null };
        await store.write({ records: [record], picture });
      }
    };
    return attempt(hang());
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
    const isSame = (work: WorkCheck) => work.piece === asked.piece && (work.planned ?? work).rounds === asked.rounds;
    dispatch({
      type: 'work',
      change: (work) => (work && isSame(work) ? work : newWorkCheck({ ...asked, thicknessMm, reference })),
    });
    dispatch({ type: 'go', screen: 'work' });
  };
}
