import { inOne, openDatabase, type PictureRecord, type SessionRecord } from './database.ts';
import { type AnyRecord, holdTheSame, KINDS, type Kind, type RecordOf, readRecord } from './records.ts';
import { StorageTrouble, storageTrouble } from './storage-trouble.ts';

export type Undo = () => Promise<void>;

/** What became of records that were written. */
export interface Written {
  /** As they are stored now. */
  readonly records: readonly AnyRecord[];
  /** True when another tab had changed one of them meanwhile: that one stands, and these were stored beside it under new ids. */
  readonly bothKept: boolean;
}

/** Things that belong together and are written together or not at all. */
export interface Writing {
  /** Each says by its `revision` which one it changes; 0 for a new one. */
  readonly records: readonly AnyRecord[];
  readonly picture?: PictureRecord | null;
  /** The job in hand, written with what was kept of it, so that the two never differ. */
  readonly session?: (written: Written) => SessionRecord;
}

export interface BroughtIn {
  readonly written: number;
  /** Left out, because what is kept is as new or newer. */
  readonly older: number;
  /** How many older ones of hers gave way. */
  readonly replaced: number;
  readonly undo: Undo;
}

/** What cannot be read, by as much of its name as can. */
export interface Damaged {
  readonly kind: Kind;
  readonly label: string;
}

/** Everything the maker keeps, and the only way to it. Every method rejects with StorageTrouble and nothing else. */
export interface Store {
  /** Those that can be read; damaged ones stay where they are. */
  list<K extends Kind>(kind: K): Promise<RecordOf[K][]>;
  damaged(): Promise<readonly Damaged[]>;
  get<K extends Kind>(kind: K, id: string): Promise<RecordOf[K] | null>;
  picture(containerId: string): Promise<PictureRecord | null>;
  pictures(): Promise<readonly PictureRecord[]>;
  /** Writes what differs from what is stored. An older revision never replaces a newer one: then both are kept. */
  write(writing: Writing): Promise<Written>;
  /** Writes this one. */
  put(record: AnyRecord): Promise<Written>;
  /** Removes, and says how to bring it back. A container's or a piece's pictures go and come with it. */
  remove(kind: Kind, id: string): Promise<Undo>;
  /** Writes all of these or none, but never over a record that was changed later. */
  bringIn(records: readonly AnyRecord[], pictures: readonly PictureRecord[]): Promise<BroughtIn>;
  sessions(): Promise<readonly SessionRecord[]>;
  forgetSession(id: string): Promise<void>;
  settings(): Promise<unknown>;
  keepSettings(settings: unknown): Promise<void>;
  /** Called after every change; `elsewhere` when another tab made it. Returns how to stop. */
  onChange(listener: (elsewhere: boolean) => void): () => void;
  /** Called when something was kept beside what another tab made of it. Returns how to stop. */
  onBothKept(listener: (record: AnyRecord) => void): () => void;
  close(): void;
}

const CHANNEL = 'roundwise-kept';
const SETTINGS_KEY = 'settings';
const STRICT = { durability: 'strict' } as const;

/**
 * @param tellEmptied  called when the browser lost what was kept
 * @throws StorageTrouble
 */
export async function openStore(databaseName?: string, tellEmptied?: () => void): Promise<Store> {
  const database = await openDatabase(databaseName, tellEmptied);
  const listeners = new Set<(elsewhere: boolean) => void>();
  const besideListeners = new Set<(record: AnyRecord) => void>();
  const tell = (elsewhere: boolean) => {
    for (const listener of listeners) listener(elsewhere);
  };
  const otherTabs = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(CHANNEL);
  otherTabs?.addEventListener('message', () => tell(true));
  const changed = () => {
    tell(false);
    otherTabs?.postMessage('changed');
  };

  const write = async ({ records, picture = null, session }: Writing): Promise<Written> => {
    // Copied first, since a copy that fails within the transaction would leave it half.
    const asked = structuredClone([...records]);
    const transaction = database.transaction([...KINDS, 'picture', 'session'] as const, 'readwrite', STRICT);
    const stored = await Promise.all(asked.map(({ kind, id }) => transaction.objectStore(kind).get(id)));
    const written = revised(asked, stored);
    const news = written.records.filter((record, k) => record.revision !== revisionOf(stored[k]) || written.bothKept);
    const at = written.records.findIndex(({ kind }) => kind === 'container');
    const containerId = written.records[at]?.id ?? picture?.containerId;
    // What goes beside takes its picture along.
    const before = written.bothKept && at >= 0 ? asked[at].id : null;
    const shown = picture ?? (before && (await transaction.objectStore('picture').get(before))) ?? null;
    await inOne(transaction, () => [
      ...news.map((record) => transaction.objectStore(record.kind).put(record as never)),
      ...(shown && containerId ? [transaction.objectStore('picture').put({ ...shown, containerId })] : []),
      ...(session ? [transaction.objectStore('session').put(session(written))] : []),
    ]);
    if (news.length > 0 || picture) changed();
    if (written.bothKept) for (const listener of besideListeners) listener(written.records[0]);
    return written;
  };

  /** Writes these as they are: what was removed comes back, what was brought in arrives. */
  const put = async (
    records: readonly AnyRecord[],
    pictures: readonly PictureRecord[],
    without: readonly AnyRecord[],
  ) => {
    const copies = structuredClone([...records]);
    const transaction = database.transaction([...KINDS, 'picture'] as const, 'readwrite', STRICT);
    await inOne(transaction, () => [
      ...without.map(({ kind, id }) => transaction.objectStore(kind).delete(id)),
      ...copies.map((record) => transaction.objectStore(record.kind).put(record as never)),
      ...pictures.map((picture) => transaction.objectStore('picture').put(picture)),
    ]);
    changed();
  };

  const store: Store = {
    list: (kind) => guarded(async () => (await database.getAll(kind)).flatMap((row) => readable(kind, row) ?? [])),
    damaged: () =>
      guarded(async () => {
        const rows = await Promise.all(KINDS.map(async (kind) => ({ kind, all: await database.getAll(kind) })));
        return rows.flatMap(({ kind, all }) =>
          all.filter((row) => !readable(kind, row)).map((row) => ({ kind, label: labelOf(row) })),
        );
      }),
    get: (kind, id) => guarded(async () => readable(kind, await database.get(kind, id))),
    picture: (containerId) => guarded(async () => (await database.get('picture', containerId)) ?? null),
    pictures: () => guarded(() => database.getAll('picture')),
    write: (writing) => guarded(() => write(writing)),
    put: (record) => guarded(() => write({ records: [record] })),
    remove: (kind, id) =>
      guarded(async () => {
        const transaction = database.transaction([kind, 'picture'] as const, 'readwrite', STRICT);
        const record = await transaction.objectStore(kind).get(id);
        const isPictured = kind === 'container' || kind === 'carrier';
        const picture = isPictured ? await transaction.objectStore('picture').get(id) : undefined;
        await inOne(transaction, () => [
          transaction.objectStore(kind).delete(id),
          ...(isPictured ? [transaction.objectStore('picture').delete(id)] : []),
        ]);
        changed();
        return () => guarded(() => put(record ? [record] : [], picture ? [picture] : [], []));
      }),
    bringIn: (records, pictures) =>
      guarded(async () => {
        const mine = await Promise.all(records.map(({ kind, id }) => database.get(kind, id)));
        const isNews = (record: AnyRecord, k: number) => {
          const kept = readable(record.kind, mine[k]);
          return !kept || (kept.changedAt < record.changedAt && !holdTheSame(kept, record));
        };
        const written = records.flatMap((record, k) =>
          isNews(record, k) ? [{ ...record, revision: Math.max(record.revision, revisionOf(mine[k]) ?? 0) + 1 }] : [],
        );
        const ids = new Set(written.map(({ id }) => id));
        const replaced = mine.filter((kept) => kept !== undefined && ids.has(kept.id));
        const before = (await database.getAll('picture')).filter(({ containerId }) => ids.has(containerId));
        await put(
          written,
          pictures.filter(({ containerId }) => ids.has(containerId)),
          [],
        );
        const undo = () => guarded(() => put(replaced as AnyRecord[], before, written));
        return { written: written.length, older: records.length - written.length, replaced: replaced.length, undo };
      }),
    sessions: () => guarded(() => database.getAll('session')),
    forgetSession: (id) => guarded(() => database.delete('session', id)),
    settings: () => guarded(() => database.get('setting', SETTINGS_KEY)),
    keepSettings: (settings) =>
      guarded(async () => {
        const transaction = database.transaction('setting', 'readwrite');
        await inOne(transaction, () => [transaction.store.put(settings, SETTINGS_KEY)]);
        changed();
      }),
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    onBothKept(listener) {
      besideListeners.add(listener);
      return () => besideListeners.delete(listener);
    },
    close: () => {
      otherTabs?.close();
      database.close();
    },
  };
  return store;
}

/**
 * What is written of these: each at the next revision, or as it stands when it holds the same already. When one of them
 * changes another revision than the stored one, all go beside what is stored, under new ids that still point to each other.
 */
function revised(asked: readonly AnyRecord[], stored: readonly unknown[]): Written {
  const now = Date.now();
  const kept = asked.map(({ kind }, k) => readable(kind, stored[k]));
  const isStale = (record: AnyRecord, k: number) => {
    if (stored[k] === undefined) return false;
    const other = kept[k];
    return !other || (other.revision !== record.revision && !holdTheSame(other, record));
  };
  if (!asked.some(isStale)) {
    const records = asked.map((record, k) => {
      const same = kept[k];
      return same && holdTheSame(same, record)
        ? { ...record, changedAt: same.changedAt, revision: same.revision }
        : { ...record, changedAt: now, revision: record.revision + 1 };
    });
    return { records, bothKept: false };
  }
  const ids = new Map(asked.map(({ id }) => [id, crypto.randomUUID() as string]));
  const newId = (id: string | null) => (id === null ? null : (ids.get(id) ?? id));
  const records = asked.map((record) => {
    const beside = { ...record, id: newId(record.id) as string, changedAt: now, revision: 1 };
    return 'containerId' in beside ? { ...beside, containerId: newId(beside.containerId) } : beside;
  });
  return { records, bothKept: true };
}

function revisionOf(row: unknown): number | null {
  if (typeof row !== 'object' || row === null) return null;
  return 'revision' in row && typeof row.revision === 'number' ? row.revision : 0;
}

function labelOf(row: unknown): string {
  return typeof row === 'object' && row !== null && 'label' in row && typeof row.label === 'string' ? row.label : '';
}

function readable<K extends Kind>(kind: K, row: unknown): RecordOf[K] | null {
  const read = readRecord(kind, row);
  return read.ok ? read.record : null;
}

async function guarded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (thrown) {
    // The connection, once open, was closed from outside: by a newer version in another tab, or by the browser.
    const closed = thrown instanceof DOMException && thrown.name === 'InvalidStateError';
    const trouble = closed ? new StorageTrouble('newer-version', thrown) : storageTrouble(thrown);
    throw trouble.reason === 'broken' && (await isFull()) ? new StorageTrouble('full', thrown) : trouble;
  }
}

/** Less room than this and browsers fail in ways they have no name for. */
const HARDLY_ANY_ROOM = 1e6;

async function isFull(): Promise<boolean> {
  const { quota = Number.POSITIVE_INFINITY, usage = 0 } = (await globalThis.navigator?.storage?.estimate?.()) ?? {};
  return quota - usage < HARDLY_ANY_ROOM;
}
