import { type Dispatch, useEffect, useMemo, useRef, useState } from 'react';
import type { Action } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { tapeText } from '../text/estimate-text.ts';
import { dateText } from '../text/readers-locale.ts';
import { useText } from '../text/text.ts';
import { EmptyShelf } from '../ui/drawings.tsx';
import { saveFile } from '../ui/hand-on.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { Nothing } from '../ui/Nothing.tsx';
import './keep.css';
import { containerOfJob, jobOfContainer } from './job-of-record.ts';
import { isLongUnnamed, keptName } from './kept-name.ts';
import { requestLastingStorage } from './lasting-storage.ts';
import { type AnyRecord, type ContainerRecord, KINDS, type PlanRecord, searchRecords } from './records.ts';
import type { BroughtIn, Undo } from './store.ts';
import { type LeftOut, type ReadProblem, readTransferFile, writeTransferFile } from './transfer-file.ts';
import { useOpenKept } from './use-open-kept.ts';
import { useAllRecords, useAttempt, useDamaged, useKeptPicture, useStore } from './use-store.ts';

interface KeptViewProps {
  readonly dispatch: Dispatch<Action>;
  readonly work: JobPhotos;
}

/** Everything kept on this device: find it, open it, delete it, take it along in a file. */
export function KeptView({ dispatch, work }: KeptViewProps) {
  const text = useText();
  const { store } = useStore();
  const { language } = useSettings();
  const [query, setQuery] = useState('');
  const [removed, setRemoved] = useState<readonly Removed[]>([]);
  const [lasting, setLasting] = useState<boolean | null>(null);
  const records = useAllRecords();
  const all: readonly AnyRecord[] = KINDS.flatMap((kind) => [...records[kind]]);
  const found = entriesOf(searchRecords(all, query));
  const damaged = useDamaged().length;
  const longUnnamed = entriesOf(all).filter(({ record, plans }) =>
    [record, ...plans].every((each) => isLongUnnamed(each)),
  );
  useEffect(() => {
    void requestLastingStorage().then(setLasting);
  }, []);

  const attempt = useAttempt();
  const nameOf = (record: AnyRecord) => keptName(record, language);

  const open = useOpenKept(dispatch, work);
  const remove = async (entries: readonly Entry[], said: string) => {
    if (!store) return;
    const undos: Undo[] = [];
    for (const record of entries.flatMap(({ record, plans }) => [record, ...plans]))
      undos.push(await store.remove(record.kind, record.id));
    const undo = async () => {
      for (const each of undos) await each();
    };
    setRemoved((before) => [...before, { said, undo }]);
  };

  return (
    <div className="stack">
      <h1>{text.keep.title}</h1>
      <div role="status">
        {removed.map((each) => (
          <div className="note" key={each.said}>
            <div className="row">
              <span>{each.said}</span>
              <button
                type="button"
                className="button"
                onClick={() => {
                  void attempt(each.undo());
                  setRemoved((before) => before.filter((other) => other !== each));
                }}
              >
                <Icon name="undo" /> {text.shell.undo}
              </button>
            </div>
          </div>
        ))}
      </div>
      {longUnnamed.length > 0 && (
        <div className="note">
          <div className="row">
            <span>{text.keep.longUnnamed(longUnnamed.length)}</span>
            <button
              type="button"
              className="button"
              onClick={() => attempt(remove(longUnnamed, text.keep.cleared(longUnnamed.length)))}
            >
              <Icon name="bin" /> {text.keep.clearUnnamed}
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
      {all.length === 0 && (
        <Nothing drawing={<EmptyShelf />} says={text.keep.nothing}>
          <button
            type="button"
            className="button button--main"
            onClick={() => dispatch({ type: 'go', screen: 'photo' })}
          >
            <Icon name="camera" /> {text.keep.firstOne}
          </button>
        </Nothing>
      )}
      {all.length > 0 && found.length === 0 && <p>{text.keep.nothingFound}</p>}
      {KINDS.map((kind) => {
        const listed = found.filter(({ record }) => record.kind === kind);
        return listed.length === 0 ? null : (
          <section key={kind} className="stack stack--tight">
            <h2>{text.keep.kinds[kind]}</h2>
            <ul className="kept">
              {listed.map((entry) => (
                <KeptEntry
                  key={entry.record.id}
                  entry={entry}
                  onContainer={(id) => attempt(open.container(id))}
                  onPlan={(id) => attempt(open.plan(id))}
                  onRemove={() => attempt(remove([entry], text.keep.removed(nameOf(entry.record))))}
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

/** What stands in the list under one name: a container together with what is planned for it, anything else by itself. */
interface Entry {
  readonly record: AnyRecord;
  readonly plans: readonly PlanRecord[];
}

function entriesOf(records: readonly AnyRecord[]): Entry[] {
  const containers = new Set(records.flatMap(({ kind, id }) => (kind === 'container' ? [id] : [])));
  const isBeside = (record: AnyRecord): record is PlanRecord =>
    record.kind === 'plan' && record.containerId !== null && containers.has(record.containerId);
  const plans = records.filter(isBeside);
  return records
    .filter((record) => !isBeside(record))
    .map((record) => ({ record, plans: plans.filter(({ containerId }) => containerId === record.id) }));
}

interface KeptEntryProps {
  readonly entry: Entry;
  readonly onContainer: (id: string) => void;
  readonly onPlan: (id: string) => void;
  readonly onRemove: () => void;
}

function KeptEntry({ entry: { record, plans }, onContainer, onPlan, onRemove }: KeptEntryProps) {
  const text = useText().keep;
  const { language } = useSettings();
  const [asking, setAsking] = useState(false);
  const label = keptName(record, language);
  return (
    <li className="kept__one panel">
      {record.kind === 'container' && <Thumbnail containerId={record.id} />}
      <div className="kept__label">
        <strong>{label}</strong>
        {record.kind === 'container' && <Sizes record={record} />}
        <span className="quiet small">{dateText(record.changedAt, language)}</span>
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
          {record.kind === 'container' && (
            <OpenButton name={text.open} label={label} onClick={() => onContainer(record.id)} />
          )}
          {(record.kind === 'plan' ? [record] : plans).map(({ id }) => (
            <OpenButton
              key={id}
              name={record.kind === 'plan' ? text.open : text.kindOf.plan}
              label={label}
              onClick={() => onPlan(id)}
            />
          ))}
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

/** Of a container, as a tape would say them; nothing where none are known. */
function Sizes({ record }: { readonly record: ContainerRecord }) {
  const words = useText().orders;
  const wording = useSettings();
  const container = useMemo(() => containerOfJob(jobOfContainer(record)), [record]);
  if (!container) return null;
  const around = tapeText(Math.PI * container.maxDiameterMm.value, wording);
  return <span className="small">{words.sizes(around, tapeText(container.heightMm.value, wording))}</span>;
}

interface OpenButtonProps {
  readonly name: string;
  readonly label: string;
  readonly onClick: () => void;
}

function OpenButton({ name, label, onClick }: OpenButtonProps) {
  return (
    <button type="button" className="button" onClick={onClick} aria-label={`${name}: ${label}`}>
      {name}
    </button>
  );
}

function Thumbnail({ containerId }: { readonly containerId: string }) {
  const url = useKeptPicture(containerId);
  return url ? <img className="kept__picture" src={url} alt="" width={72} height={72} /> : null;
}

/** What was deleted or cleared on this screen, and the way back. */
interface Removed {
  readonly said: string;
  readonly undo: Undo;
}

type Outcome =
  | { readonly brought: BroughtIn; readonly leftOut: readonly LeftOut[] }
  | ReadProblem
  | { readonly undone: true };

/** Save everything to one file, bring such a file in. */
function Transfer({ all }: { readonly all: readonly AnyRecord[] }) {
  const text = useText().keep;
  const { store } = useStore();
  const input = useRef<HTMLInputElement>(null);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const attempt = useAttempt();
  if (!store) return null;

  const save = async () => {
    const pictures = await store.pictures();
    const json = await writeTransferFile({ records: all, pictures });
    const name = `roundwise-${new Date().toISOString().slice(0, 10)}.json`;
    saveFile(new File([json], name, { type: 'application/json' }));
  };
  const bring = async (file: File) => {
    const read = readTransferFile(await file.text());
    if (!read.ok) return setOutcome(read);
    setOutcome({ brought: await store.bringIn(read.records, read.pictures), leftOut: read.leftOut });
  };
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
      <div role="status">
        {outcome && (
          <OutcomeNote
            outcome={outcome}
            onUndo={(undo) => void attempt(undo().then(() => setOutcome({ undone: true })))}
          />
        )}
      </div>
    </section>
  );
}

/** Names are listed up to here; a damaged file may hold thousands. */
const MOST_LISTED = 10;

interface OutcomeNoteProps {
  readonly outcome: Outcome;
  readonly onUndo: (undo: Undo) => void;
}

/** What became of a file: what came in, what stayed, and by name what is damaged. */
function OutcomeNote({ outcome, onUndo }: OutcomeNoteProps) {
  const text = useText();
  if ('undone' in outcome) return <Note kind="info">{text.keep.importUndone}</Note>;
  if ('reason' in outcome) {
    const problems = text.keep.importProblems;
    return (
      <Note kind="stop">
        {outcome.reason === 'invalid' ? problems.invalid(outcome.path) : problems[outcome.reason]}
      </Note>
    );
  }
  const { brought, leftOut } = outcome;
  return (
    <div className="stack stack--tight">
      <Note kind="info">
        <div className="row">
          <span>
            {text.keep.imported(brought.written)} {brought.replaced > 0 && text.keep.replaced(brought.replaced)}{' '}
            {brought.older > 0 && text.keep.olderLeft(brought.older)}
          </span>
          {brought.written > 0 && (
            <button type="button" className="button" onClick={() => onUndo(brought.undo)}>
              <Icon name="undo" /> {text.shell.undo}
            </button>
          )}
        </div>
      </Note>
      {leftOut.length > 0 && (
        <Note kind="warn">
          {text.keep.leftOut(leftOut.length)}
          <ul>
            {leftOut.slice(0, MOST_LISTED).map(({ kind, label, path }) => (
              <li key={`${kind} ${label} ${path}`}>
                {text.keep.leftOutOne(text.keep.kindOf[kind], label)}
                {path && `: ${text.keep.wrongAt(path)}`}
              </li>
            ))}
            {leftOut.length > MOST_LISTED && <li>{text.keep.leftOutMore(leftOut.length - MOST_LISTED)}</li>}
          </ul>
        </Note>
      )}
    </div>
  );
}
