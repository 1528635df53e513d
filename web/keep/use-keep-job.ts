import { type Dispatch, useEffect, useState } from 'react';
import type { Container } from '../../sizing/container.ts';
import type { Action, Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Picture } from '../place/use-job.ts';
import { containerRecordOf, pictureRecordOf, planRecordOf } from './job-of-record.ts';
import { storageTrouble } from './storage-trouble.ts';
import { useStore } from './use-store.ts';

/** Keeping the container and the plan of the job in hand. */
export function useKeepJob(job: Job, picture: Picture | null, dispatch: Dispatch<Action>) {
  const { store, reportTrouble } = useStore();
  const { keepOriginalPhoto } = useSettings();
  const [keptJob, setKeptJob] = useState<Job | null>(null);

  const attempt = async (work: () => Promise<void>) => {
    if (!store) return;
    await work().catch((thrown) => reportTrouble(storageTrouble(thrown).reason));
  };

  const keepContainer = () =>
    attempt(async () => {
      await store?.put(containerRecordOf(job), picture ? pictureRecordOf(job, picture, keepOriginalPhoto) : undefined);
      dispatch({ type: 'kept', at: Date.now(), planId: job.planId });
      setKeptJob(job);
    });

  const keepPlan = (container: Container) =>
    attempt(async () => {
      await keepContainer();
      const planId = job.planId ?? crypto.randomUUID();
      await store?.put(planRecordOf(job, planId, container));
      dispatch({ type: 'kept', at: Date.now(), planId });
    });

  // Ticked rounds and checkpoints of a kept plan are kept as they come.
  const { planId, progress } = job;
  useEffect(() => {
    if (!planId || !store) return;
    store
      .get('plan', planId)
      .then((plan) => {
        const current = (progress ?? {}) as Record<string, unknown>;
        if (plan && JSON.stringify(plan.progress) !== JSON.stringify(current)) {
          return store.put({ ...plan, progress: current });
        }
      })
      .catch((thrown) => reportTrouble(storageTrouble(thrown).reason));
  }, [planId, progress, store, reportTrouble]);

  const kept =
    keptJob !== null &&
    keptJob.label === job.label &&
    keptJob.result === job.result &&
    keptJob.furtherPhotos === job.furtherPhotos &&
    keptJob.tape === job.tape;
  return { keepContainer, keepPlan, kept };
}
