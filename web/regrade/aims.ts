import type { Container } from '../../sizing/container.ts';
import { type Job, newJob } from '../app/app-state.ts';
import { containerOfJob, jobOfContainer } from '../keep/job-of-record.ts';
import type { ContainerRecord } from '../keep/records.ts';
import type { Target } from './draft.ts';
import { containerOf } from './own-rounds.ts';

/** A container to make her carrier for, and the job it is or becomes. */
export interface Aim {
  readonly container: Container;
  readonly job: () => Job;
}

/** Null while its sizes are not known. */
export function aimFor(target: Target, job: Job | null, kept: readonly ContainerRecord[]): Aim | null {
  const { containerId, diameterMm, heightMm } = target;
  if (containerId === null) {
    if (diameterMm === null || heightMm === null) return null;
    const tape = { circumferenceMm: Math.PI * diameterMm, baseCircumferenceMm: null, heightMm };
    return {
      container: containerOf({ diameterMm, heightMm }),
      job: () => newJob(crypto.randomUUID(), null, tape, null),
    };
  }
  const record = kept.find(({ id }) => id === containerId);
  const taken = job?.id === containerId ? job : record && jobOfContainer(record);
  const container = taken && containerOfJob(taken);
  return taken && container ? { container, job: () => taken } : null;
}
