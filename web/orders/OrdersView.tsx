import type { Dispatch } from 'react';
import type { Action, Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import { containerOfJob, jobOfContainer } from '../keep/job-of-record.ts';
import type { ContainerRecord, Order, PlanRecord } from '../keep/records.ts';
import { useOpenKept } from '../keep/use-open-kept.ts';
import { useAllRecords, useAttempt, useStore } from '../keep/use-store.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { moneyText } from '../plan/money-text.ts';
import { choicesFrom } from '../plan/plan-progress.ts';
import { tapeText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { EmptyShelf } from '../ui/drawings.tsx';
import { Fold } from '../ui/Fold.tsx';
import { Nothing } from '../ui/Nothing.tsx';
import { dayText } from './reply.ts';
import './orders.css';

interface OrdersViewProps {
  /** The one in hand, whose order is changed there and not behind its back. */
  readonly job: Job | null;
  readonly dispatch: Dispatch<Action>;
  readonly work: JobPhotos;
}

type Ordered = ContainerRecord & { readonly order: Order };

/** Who asked for what, until when, and whether it is paid: what is due first stands first. */
export function OrdersView({ job, dispatch, work }: OrdersViewProps) {
  const words = useText().orders;
  const { store } = useStore();
  const open = useOpenKept(dispatch, work);
  const { container, plan } = useAllRecords();
  const attempt = useAttempt();
  const ordered = container
    .filter((record): record is Ordered => record.order !== null)
    .map((record) => (record.id === job?.id && job.order ? { ...record, order: job.order } : record))
    .sort((a, b) => (a.order.due ?? '9999').localeCompare(b.order.due ?? '9999') || a.createdAt - b.createdAt);
  const change = (record: Ordered, order: Order) => {
    if (record.id === job?.id) dispatch({ type: 'order', order });
    else if (store) void attempt(store.put({ ...record, order }));
  };
  const list = (records: readonly Ordered[]) => (
    <ul className="orders">
      {records.map((record) => {
        const begun = plan.find(({ containerId }) => containerId === record.id) ?? null;
        return (
          <OrderLine
            key={record.id}
            record={record}
            plan={begun}
            onChange={(order) => change(record, order)}
            onOpen={() => void attempt(begun ? open.plan(begun.id) : open.container(record.id))}
          />
        );
      })}
    </ul>
  );
  const done = ordered.filter(({ order }) => order.doneAt !== null);
  const waiting = ordered.filter(({ order }) => order.doneAt === null);
  return (
    <section className="stack" aria-labelledby="orders-title">
      <h1 id="orders-title">{words.title}</h1>
      {waiting.length > 0 ? (
        list(waiting)
      ) : (
        <Nothing drawing={<EmptyShelf />} says={words.empty}>
          <button
            type="button"
            className="button button--main"
            onClick={() => dispatch({ type: 'go', screen: 'guide' })}
          >
            {words.toGuide}
          </button>
        </Nothing>
      )}
      {done.length > 0 && <Fold title={words.doneOnes}>{list(done)}</Fold>}
    </section>
  );
}

interface OrderLineProps {
  readonly record: Ordered;
  readonly plan: PlanRecord | null;
  readonly onChange: (order: Order) => void;
  readonly onOpen: () => void;
}

function OrderLine({ record, plan, onChange, onOpen }: OrderLineProps) {
  const words = useText().orders;
  const wording = useSettings();
  const { order } = record;
  const name = order.customer || words.noName;
  const container = containerOfJob(jobOfContainer(record));
  const isLate = order.doneAt === null && order.due !== null && order.due < today();
  const rounds = plan?.progress?.roundsDone ?? 0;
  const { currency } = plan?.choices ?? choicesFrom(null);
  return (
    <li className="panel orders__one">
      <div className="row row--apart">
        <strong>{name}</strong>
        {order.price !== null && <span className="number">{moneyText(order.price, { currency }, wording)}</span>}
      </div>
      <span className={isLate ? 'orders__late' : ''}>
        {order.due ? (isLate ? words.overdue : words.dueOn)(dayText(order.due, wording.language)) : words.noDay}
      </span>
      <span className="quiet small">
        {container &&
          `${words.sizes(
            tapeText(Math.PI * container.maxDiameterMm.value, wording),
            tapeText(container.heightMm.value, wording),
          )} · `}
        {!plan ? words.plan.none : rounds > 0 ? words.plan.begun(rounds) : words.plan.ready}
      </span>
      <div className="row">
        <label className="orders__tick">
          <input type="checkbox" checked={order.paid} onChange={() => onChange({ ...order, paid: !order.paid })} />
          {words.paid}
        </label>
        <label className="orders__tick">
          <input
            type="checkbox"
            checked={order.doneAt !== null}
            onChange={() => onChange({ ...order, doneAt: order.doneAt === null ? Date.now() : null })}
          />
          {words.done}
        </label>
        <button type="button" className="button" aria-label={words.openOf(name)} onClick={onOpen}>
          {words.open}
        </button>
      </div>
    </li>
  );
}

/** ISO 8601, where the maker is. */
function today(): string {
  const now = new Date();
  return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}
