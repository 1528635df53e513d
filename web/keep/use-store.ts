import { createContext, useCallback, useContext, useEffect, useState } from 'react';
import { useObjectUrl } from '../ui/use-object-url.ts';
import type { Kind, RecordOf } from './records.ts';
import { type StorageReason, StorageTrouble, storageTrouble } from './storage-trouble.ts';
import type { Damaged, Store } from './store.ts';

/** Null while the store opens, or when the browser keeps nothing (the page says so once, at the top). */
export interface StoreAccess {
  readonly store: Store | null;
  /** Tell the maker that something was not kept. */
  readonly reportTrouble: (reason: StorageReason) => void;
  /** Waits until the job in hand is written down. */
  readonly flush: () => Promise<void>;
}

const StoreContext = createContext<StoreAccess>({ store: null, reportTrouble: () => {}, flush: async () => {} });

export const StoreProvider = StoreContext.Provider;

export function useStore(): StoreAccess {
  return useContext(StoreContext);
}

/** Waits for a change to be kept, and tells the maker when it was not; true when it was. */
export function useAttempt(): (change: Promise<unknown>) => Promise<boolean> {
  const { reportTrouble } = useStore();
  return useCallback(
    (change) =>
      change.then(
        () => true,
        (thrown) => {
          reportTrouble(storageTrouble(thrown).reason);
          return false;
        },
      ),
    [reportTrouble],
  );
}

/** All records of one kind, fresh after every change in any tab. */
export function useRecords<K extends Kind>(kind: K): readonly RecordOf[K][] {
  return useAsked<readonly RecordOf[K][]>(
    [],
    useCallback((store) => store.list(kind), [kind]),
  );
}

/** Everything kept, of all kinds at once, so that a list never stands there with half of it. */
export function useAllRecords(): RecordsByKind {
  return useAsked(NO_RECORDS, askAll);
}

export type RecordsByKind = { readonly [K in Kind]: readonly RecordOf[K][] };

const NO_RECORDS: RecordsByKind = { container: [], gauge: [], plan: [], carrier: [] };
async function askAll(store: Store): Promise<RecordsByKind> {
  const [container, gauge, plan, carrier] = await Promise.all([
    store.list('container'),
    store.list('gauge'),
    store.list('plan'),
    store.list('carrier'),
  ]);
  return { container, gauge, plan, carrier };
}

/** Address of the picture kept of a container or a finished piece; null where there is none. */
export function useKeptPicture(id: string): string | null {
  const picture = useAsked(
    null,
    useCallback((store: Store) => store.picture(id), [id]),
  );
  return useObjectUrl(picture?.blanked ?? null);
}

/** What is kept but cannot be read. */
export function useDamaged(): readonly Damaged[] {
  return useAsked<readonly Damaged[]>(NONE, askDamaged);
}

const NONE: readonly Damaged[] = [];
const askDamaged = (store: Store) => store.damaged();

/** What the store answers, asked again after every change in any tab; `before` until it has answered this question. */
export function useAsked<T>(before: T, ask: (store: Store) => Promise<T>): T {
  const { store, reportTrouble } = useStore();
  const [answer, setAnswer] = useState({ to: ask, is: before });
  useEffect(() => {
    if (!store) return;
    let current = true;
    const load = () =>
      ask(store).then(
        (is) => current && setAnswer({ to: ask, is }),
        (thrown) => thrown instanceof StorageTrouble && reportTrouble(thrown.reason),
      );
    load();
    const stop = store.onChange(load);
    return () => {
      current = false;
      stop();
    };
  }, [store, ask, reportTrouble]);
  return answer.to === ask ? answer.is : before;
}
