import { type Dispatch, useEffect, useRef, useState } from 'react';
import type { Action } from '../app/app-state.ts';
import type { JobWork } from '../place/use-job.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { jobOfContainer, jobOfPlan } from './job-of-record.ts';
import './keep.css';
import { type AnyRecord, type ContainerRecord, KINDS, type PlanRecord, searchRecords } from './records.ts';
import { storageTrouble } from './storage-trouble.ts';
import { requestLastingStorage, type Undo } from './store.ts';
import { type ReadProblem, readTransferFile, writeTransferFile } from './transfer-file.ts';
import { useDamagedCount, useRecords, useStore } from './use-store.ts';

interface KeptViewProps {
  readonly dispatch: Dispatch<Action>;
  readonly work: JobWork;
}

/** Everything kept on this device: find it, open it, delete it, take it along in a file. */
export function KeptView({ dispatch, work }: KeptViewProps) {
  const text = useText();
  const { store, reportTrouble } = useStore();
  const [query, setQuery] = useState('');
  const [removed, setRemoved] = useState<{ readonly label: string; readonly undo: Undo } | null>(null);
  const [lasting, setLasting] = useState<boolean | null>(null);
  const records = {
    container: useRecords('container'),
    gauge: useRecords('gauge'),
    plan: useRecords('plan'),
    carrier: useRecords('carrier'),
  };
  const all: readonly AnyRecord[] = KINDS.flatMap((kind) => [...records[kind]]);
  const found = searchRecords(all, query);
  const damaged = useDamagedCount();
  useEffect(() => {
    void requestLastingStorage().then(setLasting);
  }, []);

  const attempt = (work: Promise<unknown>) => work.catch((thrown) => reportTrouble(storageTrouble(thrown).reason));
  const nameOf = (record: AnyRecord) => record.label || text.keep.unnamed;

  const openContainer = async (record: ContainerRecord) => {
    const picture = await store?.picture(record.id);
    const job = jobOfContainer(record);
    work.showKept({ blanked: picture?.blanked ?? null, original: picture?.original ?? null }, job);
    dispatch({ type: 'open-job', job, screen: 'sizes' });
  };
  const openPlan = async (plan: PlanRecord) => {
    const container = plan.containerId === null ? null : ((await store?.get('container', plan.containerId)) ?? null);
    if (container) await openContainer(container);
    dispatch({ type: 'open-job', job: jobOfPlan(plan, container), screen: 'plan' });
  };
  const remove = async (record: AnyRecord) => {
    const undo = await store?.remove(record.kind, record.id);
    if (undo) setRemoved({ label: nameOf(record), undo });
  };

  return (
    <div className="stack">
      <h1>{text.keep.title}</h1>
      {removed && (
        <div className="note" role="status">
          <div className="row">
            <span>{text.keep.removed(removed.label)}</span>
            <button
              type="button"
              className="button"
              onClick={() => {
                void attempt(removed.undo());
                setRemoved(null);
              }}
            >
              <Icon name="undo" /> {text.shell.undo}
            </button>
          </div>
        </div>
      )}
      {all.length > 0 && (
        <div className="field">
          <label htmlFor="kept-search">{text.keep.search}</label>
          <input id="kept-search" type="search" value={query} onChange={(event) => setQuery(event.target.value)} />
        </div>
      )}
      {found.length === 0 && <p>{all.length === 0 ? text.keep.nothing : text.keep.nothingFound}</p>}
      {KINDS.map((kind) => {
        const listed = found.filter((record) => record.kind === kind);
        return listed.length === 0 ? null : (
          <section key={kind} className="stack stack--tight">
            <h2>{text.keep.kinds[kind]}</h2>
            <ul className="kept">
              {listed.map((record) => (
                <KeptRecord
                  key={record.id}
                  record={record}
                  onOpen={
                    record.kind === 'container'
                      ? () => attempt(openContainer(record))
                      : record.kind === 'plan'
                        ? () => attempt(openPlan(record))
                        : null
                  }
                  onRemove={() => attempt(remove(record))}
                />
              ))}
            </ul>
          </section>
        );
      })}
      {damaged > 0 && <Note kind="warn">{text.keep.damaged(damaged)}</Note>}
      <Transfer all={all} />
      {lasting !== null && <p className="quiet small">{lasting ? text.keep.lasting : text.keep.notLasting}</p>}
    </div>
  );
}

interface KeptRecordProps {
  readonly record: AnyRecord;
  readonly onOpen: (() => void) | null;
  readonly onRemove: () => void;
}

function KeptRecord({ record, onOpen, onRemove }: KeptRecordProps) {
  const text = useText().keep;
  const [asking, setAsking] = useState(false);
  const label = record.label || text.unnamed;
  return (
    <li className="kept__one panel">
      {record.kind === 'container' && <Thumbnail containerId={record.id} />}
      <div className="kept__label">
        <strong>{label}</strong>
        <span className="quiet small">
          {new Date(record.changedAt).toLocaleDateString(document.documentElement.lang)}
        </span>
      </div>
      {asking ? (
        <fieldset className="row">
          <legend className="visually-hidden">{text.removeAsk(label)}</legend>
          <span>{text.removeAsk(label)}</span>
          <button type="button" className="button button--danger" onClick={onRemove}>
            {text.removeYes}
          </button>
          <button type="button" className="button" onClick={() => setAsking(false)}>
            {text.removeNo}
          </button>
        </fieldset>
      ) : (
        <div className="row">
          {onOpen && (
            <button type="button" className="button" onClick={onOpen} aria-label={`${text.open}: ${label}`}>
              {text.open}
            </button>
          )}
          <button
            type="button"
            className="button button--quiet button--icon"
            aria-label={`${text.remove}: ${label}`}
            onClick={() => setAsking(true)}
          >
            <Icon name="bin" />
          </button>
        </div>
      )}
    </li>
  );
}

function Thumbnail({ containerId }: { readonly containerId: string }) {
  const { store } = useStore();
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    let made: string | null = null;
    let current = true;
    store?.picture(containerId).then(
      (picture) => {
        if (!picture?.blanked || !current) return;
        made = URL.createObjectURL(picture.blanked);
        setUrl(made);
      },
      () => {},
    );
    return () => {
      current = false;
      if (made) URL.revokeObjectURL(made);
    };
  }, [store, containerId]);
  return url ? <img className="kept__picture" src={url} alt="" width={72} height={72} /> : null;
}

type Outcome = { readonly count: number; readonly older: number } | ReadProblem;

/** Save everything to one file, bring such a file in. */
function Transfer({ all }: { readonly all: readonly AnyRecord[] }) {
  const text = useText().keep;
  const { store, reportTrouble } = useStore();
  const input = useRef<HTMLInputElement>(null);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  if (!store) return null;

  const save = async () => {
    const pictures = await store.database.getAll('picture');
    const json = await writeTransferFile({ records: all, pictures });
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([json], { type: 'application/json' }));
    link.download = `roundwise-${new Date().toISOString().slice(0, 10)}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  };
  const bring = async (file: File) => {
    const read = readTransferFile(await file.text());
    if (!read.ok) return setOutcome(read);
    const count = await store.bringIn(read.records, read.pictures);
    setOutcome({ count, older: read.records.length - count });
  };
  const attempt = (work: Promise<unknown>) => work.catch((thrown) => reportTrouble(storageTrouble(thrown).reason));

  return (
    <section className="panel stack stack--tight">
      <div className="row">
        <button type="button" className="button" disabled={all.length === 0} onClick={() => attempt(save())}>
          <Icon name="save" /> {text.exportAll}
        </button>
        <button type="button" className="button" onClick={() => input.current?.click()}>
          <Icon name="bring" /> {text.importFile}
        </button>
      </div>
      <p className="quiet small">{text.exportHint}</p>
      <input
        ref={input}
        type="file"
        accept="application/json,.json"
        hidden
        data-testid="kept-file"
        onChange={(event) => {
          const file = event.target.files?.[0];
          if (file) void attempt(bring(file));
          event.target.value = '';
        }}
      />
      <div role="status">{outcome && <OutcomeNote outcome={outcome} />}</div>
    </section>
  );
}

function OutcomeNote({ outcome }: { readonly outcome: Outcome }) {
  const text = useText().keep;
  if ('count' in outcome) {
    return (
      <Note kind="info">
        {text.imported(outcome.count)} {outcome.older > 0 && text.olderLeft(outcome.older)}
      </Note>
    );
  }
  const sentence =
    outcome.reason === 'invalid' ? text.importProblems.invalid(outcome.path) : text.importProblems[outcome.reason];
  return <Note kind="stop">{sentence}</Note>;
}
