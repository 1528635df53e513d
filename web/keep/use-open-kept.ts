import type { Dispatch } from 'react';
import type { Action, Job } from '../app/app-state.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { jobOfContainer, jobOfPlan } from './job-of-record.ts';
import { useStore } from './use-store.ts';

/** Takes up what was kept. The job in hand may be the very one: what the store holds of it is asked once all is written. */
export function useOpenKept(dispatch: Dispatch<Action>, work: Pick<JobPhotos, 'showKept'>) {
  const { store, flush } = useStore();
  const open = async (job: Job, screen: 'sizes' | 'plan') => {
    const picture = job.photo && (await store?.picture(job.id));
    dispatch({ type: 'open-job', job, screen });
    work.showKept({ blanked: picture?.blanked ?? null, original: picture?.original ?? null }, job);
  };
  return {
    container: async (id: string) => {
      await flush();
      const record = await store?.get('container', id);
      if (record) await open(jobOfContainer(record), 'sizes');
    },
    plan: async (id: string) => {
      await flush();
      const plan = await store?.get('plan', id);
      if (!plan) return;
      const container = plan.containerId === null ? null : ((await store?.get('container', plan.containerId)) ?? null);
      await open(jobOfPlan(plan, container), 'plan');
    },
  };
}
