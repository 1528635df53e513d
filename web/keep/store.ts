import { type Database, openDatabase, type PictureRecord } from './database.ts';
import { type AnyRecord, KINDS, type Kind, type RecordOf } from './records.ts';
import { storageTrouble } from './storage-trouble.ts';

export type Undo = () => Promise<void>;

/** Everything the maker keeps. Every method rejects with StorageTrouble and nothing else. */
export interface Store {
  list<K extends Kind>(kind: K): Promise<RecordOf[K][]>;
  get<K extends Kind>(kind: K, id: string): Promise<RecordOf[K] | null>;
  /** Adds or replaces; sets `changedAt`. */
  put(record: AnyRecord): Promise<void>;
  /** Removes, and says how to bring it back. A container's pictures go and come with it. */
  remove(kind: Kind, id: string): Promise<Undo>;
  picture(containerId: string): Promise<PictureRecord | null>;
  putPicture(picture: PictureRecord): Promise<void>;
  /** Writes all of these or none. */
  putAll(records: readonly AnyRecord[], pictures: readonly PictureRecord[]): Promise<void>;
  /** Empties everything kept, sessions and settings included. */
  wipe(): Promise<void>;
  /** Called after every change, also one made in another tab. Returns how to stop. */
  onChange(listener: () => void): () => void;
  readonly database: Database;
}

const CHANNEL = 'roundwise-kept';

/** @throws StorageTrouble */
export async function openStore(databaseName?: string): Promise<Store> {
  const database = await openDatabase(databaseName);
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

  const store: Store = {
    database,
    list: (kind) => guarded(async () => (await database.getAll(kind)) as never),
    get: (kind, id) => guarded(async () => ((await database.get(kind, id)) ?? null) as never),
    put: (record) =>
      guarded(async () => {
        await database.put(record.kind, { ...record, changedAt: Date.now() } as never);
        changed();
      }),
    remove: (kind, id) =>
      guarded(async () => {
        const record = await database.get(kind, id);
        const picture = kind === 'container' ? await database.get('picture', id) : undefined;
        await database.delete(kind, id);
        if (kind === 'container') await database.delete('picture', id);
        changed();
        return () => store.putAll(record ? [record] : [], picture ? [picture] : []);
      }),
    picture: (containerId) => guarded(async () => (await database.get('picture', containerId)) ?? null),
    putPicture: (picture) =>
      guarded(async () => {
        await database.put('picture', picture);
        changed();
      }),
    putAll: (records, pictures) =>
      guarded(async () => {
        const transaction = database.transaction([...KINDS, 'picture'] as const, 'readwrite');
        const writes: Promise<unknown>[] = [
          ...records.map((record) => transaction.objectStore(record.kind).put(record as never)),
          ...pictures.map((picture) => transaction.objectStore('picture').put(picture)),
        ];
        await Promise.all([...writes, transaction.done]);
        changed();
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

async function guarded<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (thrown) {
    throw storageTrouble(thrown);
  }
}
