import { type Dispatch, useId, useState } from 'react';
import type { Action, Job } from '../app/app-state.ts';
import type { CarrierPhoto } from '../carrier-view/photo-look.ts';
import { keptColour } from '../carrier-view/use-yarn-colour.ts';
import { USUAL_YARN } from '../carrier-view/yarn-colours.ts';
import { newPhotoId } from '../engine/measuring.ts';
import { FIRST_GAUGE_ENTRY, usableGauge } from '../gauge/gauge-entry.ts';
import { containerOfJob } from '../keep/job-of-record.ts';
import type { Order } from '../keep/records.ts';
import { useOpenKept } from '../keep/use-open-kept.ts';
import { useAttempt, useRecords, useStore } from '../keep/use-store.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { currentPlan } from '../plan/current-plan.ts';
import { choicesFrom, NOT_STARTED } from '../plan/plan-progress.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { Note } from '../ui/Note.tsx';
import { NumberField } from '../ui/NumberField.tsx';
import { CopyButton } from './CopyButton.tsx';
import { Reply } from './Reply.tsx';

interface CustomerFoldProps {
  readonly job: Job;
  readonly dispatch: Dispatch<Action>;
  readonly work: JobPhotos;
  /** The photo with its card covered, to show the carrier in. */
  readonly photo: CarrierPhoto | null;
}

export const NO_ORDER: Order = { customer: '', due: null, price: null, paid: false, doneAt: null };

/** Whose container it is, what was agreed, and the answer to her. Her name is asked at once when a photo came from somebody else. */
export function CustomerFold({ job, dispatch, work, photo }: CustomerFoldProps) {
  const words = useText().orders;
  const id = useId();
  const [open] = useState(job.sent !== null);
  const order = job.order ?? NO_ORDER;
  const change = (news: Partial<Order>) => {
    const next = { ...order, ...news };
    const isNone = Object.entries(next).every(([name, value]) => value === NO_ORDER[name as keyof Order]);
    dispatch({ type: 'order', order: isNone ? null : next });
  };
  const hasMore = !job.sent || job.sent !== 'as-taken' || work.waiting.length > 0 || job.order !== null;
  const name = (
    <div className="field">
      <label htmlFor={id}>{words.customer}</label>
      <input
        id={id}
        value={order.customer}
        maxLength={200}
        autoComplete="off"
        aria-describedby={`${id}-hint`}
        onChange={(event) => change({ customer: event.target.value })}
      />
      <span className="hint" id={`${id}-hint`}>
        {words.customerHint}
      </span>
    </div>
  );
  return (
    <>
      {job.sent && name}
      {hasMore && (
        <Fold title={words.fold} icon="tag" open={open}>
          {!job.sent && name}
          <Waiting work={work} />
          <CopyNote sent={job.sent} />
          <AnotherOfHers job={job} dispatch={dispatch} work={work} />
          {job.order && (
            <>
              <div className="fields">
                <div className="field">
                  <label htmlFor={`${id}-due`}>{words.due}</label>
                  <input
                    id={`${id}-due`}
                    type="date"
                    value={order.due ?? ''}
                    onChange={(event) => change({ due: event.target.value || null })}
                  />
                </div>
                <NumberField
                  label={words.price}
                  value={order.price}
                  onChange={(price) => change({ price })}
                  min={0.01}
                  max={100_000}
                />
              </div>
              <JobReply job={{ ...job, order: job.order }} photo={photo} />
            </>
          )}
        </Fold>
      )}
    </>
  );
}

function JobReply({ job, photo }: { readonly job: Job & { order: Order }; readonly photo: CarrierPhoto | null }) {
  const container = containerOfJob(job);
  if (!container) return null;
  const choices = job.choices ?? choicesFrom(null);
  const gauge = usableGauge(job.gauge ?? FIRST_GAUGE_ENTRY);
  const current = currentPlan(container, gauge, choices, job.progress ?? NOT_STARTED);
  const replied = {
    order: job.order,
    container,
    plan: current.outcome === 'planned' ? current.plan : null,
    colour: keptColour() ?? USUAL_YARN,
    currency: choices.currency,
  };
  return <Reply replied={replied} photo={photo} />;
}

/** What else came with this photo. */
function Waiting({ work }: { readonly work: JobPhotos }) {
  const words = useText().orders;
  const { waiting } = work;
  if (waiting.length === 0) return null;
  return (
    <Note kind="info">
      {words.waiting(waiting.length)}
      <div className="row">
        <button type="button" className="button" onClick={work.joinWaiting}>
          {words.joinWaiting}
        </button>
        <button type="button" className="button button--quiet" onClick={() => work.openSent(waiting)}>
          {words.openWaiting}
        </button>
      </div>
    </Note>
  );
}

/** What a copy has lost, and the words to ask for the photo itself. */
function CopyNote({ sent }: Pick<Job, 'sent'>) {
  const words = useText().orders;
  if (sent !== 'copy' && sent !== 'screenshot') return null;
  return (
    <Note kind={sent === 'screenshot' ? 'warn' : 'info'}>
      <p>{words.copyNote[sent]}</p>
      <p className="quiet">
        <q>{words.askForPhoto[sent]}</q>
      </p>
      <CopyButton text={words.askForPhoto[sent]}>{words.copyAsk}</CopyButton>
    </Note>
  );
}

/** A further photo of what a customer has ordered already goes to that order. */
function AnotherOfHers({ job, dispatch, work }: Omit<CustomerFoldProps, 'photo'>) {
  const words = useText().orders;
  const { store } = useStore();
  const attempt = useAttempt();
  const open = useOpenKept(dispatch, work);
  const customer = job.order?.customer.trim() ?? '';
  const former = useRecords('container').find(
    ({ id, order, measurement }) =>
      id !== job.id && measurement && order && order.doneAt === null && order.customer.trim() === customer,
  );
  const result = job.result;
  if (!customer || !former || !store || result?.outcome !== 'measured') return null;
  const join = async () => {
    const { measurement } = result;
    await open.container(former.id);
    dispatch({ type: 'further-photo', jobId: former.id, further: { photo: newPhotoId(), measurement } });
    await store.remove('container', job.id);
  };
  return (
    <Note kind="info">
      {words.known(customer)}
      <div>
        <button type="button" className="button" onClick={() => void attempt(join())}>
          {words.join}
        </button>
      </div>
    </Note>
  );
}
