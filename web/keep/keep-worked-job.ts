import { type Job, measurementOf } from '../app/app-state.ts';
import type { Picture } from '../place/use-job.ts';
import { sizedContainer } from '../sizes/sized-container.ts';
import { containerRecordOf, pictureRecordOf, planRecordOf } from './job-of-record.ts';
import type { Store } from './store.ts';

/** True when the maker put work into this job that a new photo must not sweep away. */
export function isWorkedOn(job: Job): boolean {
  return job.label !== '' || job.planId !== null || job.progress !== null || job.choices !== null;
}

/**
 * Keeps the job in hand before another takes its place.
 * @throws StorageTrouble
 */
export async function keepWorkedJob(
  store: Store,
  job: Job,
  picture: Picture | null,
  keepOriginalPhoto: boolean,
): Promise<void> {
  const container = sizedContainer(measurementOf(job), job.tape);
  if (!isWorkedOn(job) || !container) return;
  await store.put(containerRecordOf(job), picture ? pictureRecordOf(job, picture, keepOriginalPhoto) : undefined);
  if (job.progress !== null || job.choices !== null || job.planId !== null) {
    await store.put(planRecordOf(job, job.planId ?? crypto.randomUUID(), container));
  }
}
