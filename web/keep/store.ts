import * as v from 'valibot';
import { type Database, finished, openDatabase, type PictureRecord } from './database.ts';
import { type AnyRecord, KINDS, type Kind, type RecordOf, SCHEMA_OF } from './records.ts';
import { StorageTrouble, storageTrouble } from './storage-trouble.ts';

export type Undo = () => Promise<void>;

/** Everything the maker keeps. Every method rejects with StorageTrouble and nothing else. */
export interface Store {
  /** Those that can be read; damaged ones stay where they are. */
  list<K extends Kind>(kind: K): Promise<RecordOf[K][]>;
  /** How many kept records cannot be read. */
  countDamaged(): Promise<number>;
  get<K extends Kind>(kind: K, id: string): Promise<RecordOf[K] | null>;
  /** Adds or replaces a record, a container's pictures with it: both or neither. Sets `changedAt`. */
  put(record: AnyRecord, picture?: PictureRecord): Promise<void>;
  /** Removes, and says how to bring it back. A container's pictures go and come with it. */
  remove(kind: Kind, id: string): Promise<Undo>;
  picture(containerId: string): Promise<PictureRecord | null>;
  /** Writes all of these or none, but never over a record that was changed later; says how many were written. */
  bringIn(records: readonly AnyRecord[], pictures: readonly PictureRecord[]): Promise<number>;
  /** Empties everything kept, sessions and settings included. */
  wipe(): Promise<void>;
  /** Called after every change, also one made in another tab. Returns how to stop. */
  onChange(listener: () => void): () => void;
  readonly database: Database;
}

const CHANNEL = 'roundwise-kept';

/**
 * @param tellEmptied  called when the browser lost what was kept
 * @throws StorageTrouble
 */
export async function openStore(databaseName?: string, tellEmptied?: () => void): Promise<Store> {
  const database = await openDatabase(databaseName, tellEmptied);
  const listeners = new Set<() => void>();
  const tell = () => {
    for (const listener of listeners) listener();
  };
  const otherTabs = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(CHANNEL);
  otherTabs?.addEventListener('message', tell);
  const changed = () => {
    tell();
    otherTabs?.postMessage('changed');
  };

  /** One transaction that is on disk when it is done. Records are copied first, since a failing copy would leave it half. */
  const write = async (records: readonly AnyRecord[], pictures: readonly PictureRecord[]) => {
    const copies = structuredClone([...records]);
    const transaction = database.transaction([...KINDS, 'picture'] as const, 'readwrite', { durability: 'strict' });
    await finished(transaction, [
      ...copies.map((record) => transaction.objectStore(record.kind).put(record as never)),
      ...pictures.map((picture) => transaction.objectStore('picture').put(picture)),
    ]);
    changed();
  };

  const store: Store = {
    database,
    list: (kind) => guarded(async () => (await database.getAll(kind)).flatMap((row) => readable(kind, row) ?? [])),
    countDamaged: () =>
      guarded(async () => {
        const rows = await Promise.all(KINDS.map(async (kind) => ({ kind, all: await database.getAll(kind) })));
        return rows.flatMap(({ kind, all }) => all.filter((row) => !readable(kind, row))).length;
      }),
    get: (kind, id) => guarded(async () => readable(kind, await database.get(kind, id))),
    put: (record, picture) => guarded(() => write([{ ...record, changedAt: Date.now() }], picture ? [picture] : [])),
    remove: (kind, id) =>
      guarded(async () => {
        const record = await database.get(kind, id);
        const picture = kind === 'container' ? await database.get('picture', id) : undefined;
        const transaction = database.transaction([kind, 'picture'] as const, 'readwrite', { durability: 'strict' });
        const requests = [transaction.objectStore(kind).delete(id)];
        if (kind === 'container') requests.push(transaction.objectStore('picture').delete(id));
        await finished(transaction, requests);
        changed();
        return () => guarded(() => write(record ? [record] : [], picture ? [picture] : []));
      }),
    picture: (containerId) => guarded(async () => (await database.get('picture', containerId)) ?? null),
    bringIn: (records, pictures) =>
      guarded(async () => {
        const isNews = async ({ kind, id, changedAt }: AnyRecord) => {
          const kept = readable(kind, await database.get(kind, id));
          return !kept || kept.changedAt <= changedAt;
        };
        const news = await Promise.all(records.map(isNews));
        const written = records.filter((_, k) => news[k]);
        const ids = new Set(written.map(({ id }) => id));
        await write(
          written,
          pictures.filter(({ containerId }) => ids.has(containerId)),
        );
        return written.length;
      }),
    wipe: () =>
      guarded(async () => {
        for (const name of [...KINDS, 'picture', 'session', 'setting'] as const) await database.clear(name);
        changed();
      }),
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  return store;
}

/** Asks the browser not to clear our data when space runs short. False when it declines or cannot say. */
export async function requestLastingStorage(): Promise<boolean> {
  return (await navigator.storage?.persist?.().catch(() => false)) ?? false;
}

function readable<K extends Kind>(kind: K, row: unknown): RecordOf[K] | null {
  const read = v.safeParse(SCHEMA_OF[kind], row);
  return read.success ? (read.output as RecordOf[K]) : null;
}

async function guarded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (thrown) {
    // The connection, once open, was closed from outside: by a newer version in another tab, or by the browser.
    const closed = thrown instanceof DOMException && thrown.name === 'InvalidStateError';
    throw closed ? new StorageTrouble('newer-version', thrown) : storageTrouble(thrown);
  }
}
