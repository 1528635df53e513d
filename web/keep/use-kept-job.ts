import { type Dispatch, useEffect, useMemo, useRef, useState } from 'react';
import type { Action, AppState } from '../app/app-state.ts';
import type { Picture } from '../place/use-measured-photo.ts';
import type { JobKeeper, KeptBeside } from './job-keeper.ts';
import { requestLastingStorage } from './lasting-storage.ts';
import type { AnyRecord } from './records.ts';
import { type StorageReason, storageTrouble } from './storage-trouble.ts';
import type { Store } from './store.ts';

/** Quiet time after the last change before the job is written down. */
const SAVE_AFTER_MS = 250;

interface KeepingProps {
  readonly state: AppState;
  readonly dispatch: Dispatch<Action>;
  readonly picture: Picture | null;
  readonly keepOriginal: boolean;
}

/** What came with opening the store: it, and who writes the job down. Null until then, or when the browser keeps nothing. */
export interface Keeping {
  readonly store: Store;
  keeper(tell: (beside: KeptBeside) => void, failed: (thrown: unknown) => void): JobKeeper;
}

export interface KeptJob {
  /** What was kept beside that which another tab made of it, until the maker has read so. */
  readonly beside: AnyRecord | null;
  readonly dismiss: () => void;
  /** Waits until the job in hand is written. */
  readonly flush: () => Promise<void>;
}

/** Writes the job in hand down as it changes, and takes up what another tab made of it. */
export function useKeptJob(
  keeping: Keeping | null,
  { state, dispatch, picture, keepOriginal }: KeepingProps,
  tell: (reason: StorageReason | null) => void,
): KeptJob {
  const [beside, setBeside] = useState<AnyRecord | null>(null);
  const told = useRef(tell);
  told.current = tell;
  const { screen, job, lastGauge } = state;
  const keeper = useMemo(
    () =>
      keeping?.keeper(
        (kept) => dispatch({ type: 'kept-beside', ...kept }),
        (thrown) => told.current(storageTrouble(thrown).reason),
      ) ?? null,
    [keeping, dispatch],
  );
  const save = useMemo(
    () => async () => {
      await keeper?.flush().then(
        () => told.current(null),
        (thrown) => told.current(storageTrouble(thrown).reason),
      );
    },
    [keeper],
  );

  const progress = useRef(job?.progress);
  useEffect(() => {
    if (!keeper) return;
    keeper.note({ state: { screen, job, lastGauge }, picture, keepOriginal });
    // A tick is one touch and worth a whole round: it does not wait for quiet.
    const isTick = progress.current !== job?.progress;
    progress.current = job?.progress;
    const timer = setTimeout(save, isTick ? 0 : SAVE_AFTER_MS);
    return () => clearTimeout(timer);
  }, [keeper, save, screen, job, lastGauge, picture, keepOriginal]);

  useEffect(() => {
    // A phone may close the page without a word; hiding is the last moment it is sure to run.
    document.addEventListener('visibilitychange', save);
    window.addEventListener('pagehide', save);
    return () => {
      document.removeEventListener('visibilitychange', save);
      window.removeEventListener('pagehide', save);
    };
  }, [save]);

  useEffect(() => {
    if (!keeping || !keeper) return;
    return keeping.store.onChange((elsewhere) => {
      if (!elsewhere) return;
      keeper.changedElsewhere().then(
        (job) => job && dispatch({ type: 'changed-elsewhere', job }),
        () => {},
      );
    });
  }, [keeping, keeper, dispatch]);

  useEffect(() => keeping?.store.onBothKept(setBeside), [keeping]);

  const hasJob = job !== null;
  useEffect(() => {
    if (hasJob) void requestLastingStorage();
  }, [hasJob]);

  return { beside, dismiss: () => setBeside(null), flush: save };
}
