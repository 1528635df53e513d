import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { CarrierRecord, ContainerRecord, GaugeRecord, PlanRecord } from './records.ts';
import { storageTrouble } from './storage-trouble.ts';

/** Pictures live apart from their containers, so that lists load without them. */
export interface PictureRecord {
  /** The container, or the finished piece, that it shows. */
  readonly containerId: string;
  /** Card face blanked, metadata gone. */
  readonly blanked: Blob | null;
  /** As taken; only when the maker asked to keep it. */
  readonly original: Blob | null;
}

/** The job on screen, one per tab, so that a reload loses nothing. */
export interface SessionRecord {
  readonly id: string;
  readonly savedAt: number;
  readonly state: unknown;
  readonly blanked: Blob | null;
  readonly original: Blob | null;
}

export interface Schema extends DBSchema {
  container: { key: string; value: ContainerRecord };
  gauge: { key: string; value: GaugeRecord };
  plan: { key: string; value: PlanRecord };
  carrier: { key: string; value: CarrierRecord };
  picture: { key: string; value: PictureRecord };
  session: { key: string; value: SessionRecord };
  setting: { key: string; value: unknown };
}
export type Database = IDBPDatabase<Schema>;

/** Step k brings a database of version k to version k + 1. Steps are added at the end and never changed. */
const MIGRATIONS: readonly ((database: Database) => void)[] = [
  (database) => {
    for (const kind of ['container', 'gauge', 'plan', 'carrier'] as const) {
      database.createObjectStore(kind, { keyPath: 'id' });
    }
    database.createObjectStore('picture', { keyPath: 'containerId' });
    database.createObjectStore('session', { keyPath: 'id' });
    database.createObjectStore('setting');
  },
];

/** Chromium says so when it had to throw damaged data away; no standard. */
type LossEvent = IDBVersionChangeEvent & { readonly dataLoss?: 'none' | 'total' };

/**
 * @param tellEmptied  called when the browser found its storage damaged and began with an empty one
 * @throws StorageTrouble when the browser blocks storage or holds data of a newer Roundwise
 */
export async function openDatabase(name = 'roundwise', tellEmptied = () => {}): Promise<Database> {
  try {
    return await openDB<Schema>(name, MIGRATIONS.length, {
      upgrade(database, oldVersion, _newVersion, _transaction, event) {
        if ((event as LossEvent).dataLoss === 'total') tellEmptied();
        for (const migrate of MIGRATIONS.slice(oldVersion)) migrate(database);
      },
      // Another tab brings a newer version: let go, so that it need not wait for this one.
      blocking(_current, _blocked, event) {
        (event.target as IDBDatabase).close();
      },
    });
  } catch (thrown) {
    throw storageTrouble(thrown);
  }
}

/**
 * Writes all of it or nothing, and waits until it is on disk. A transaction that fails says why (no room, say); its
 * requests only know that it was called off.
 */
export async function inOne(
  transaction: { readonly done: Promise<void>; abort(): void },
  write: () => readonly Promise<unknown>[],
): Promise<void> {
  let requests: readonly Promise<unknown>[] = [];
  try {
    requests = write();
  } catch (thrown) {
    transaction.done.catch(() => {});
    transaction.abort();
    throw thrown;
  }
  await Promise.all([transaction.done, ...requests.map((request) => request.catch(() => {}))]);
}
