import type { Container } from '../../sizing/container.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { type Job, newJob } from '../app/app-state.ts';
import type { Picture } from '../place/use-job.ts';
import type { PictureRecord } from './database.ts';
import { type ContainerRecord, NO_TAPE, newRecord, type PlanRecord } from './records.ts';

/** A kept container taken up again. */
export function jobOfContainer(record: ContainerRecord): Job {
  const result = record.measurement
    ? ({ outcome: 'measured', measurement: record.measurement, warnings: record.warnings } as MeasureResult)
    : null;
  return {
    ...newJob(record.id, record.photo, record.tape, null),
    label: record.label,
    result,
    furtherPhotos: record.furtherPhotos as unknown as Job['furtherPhotos'],
    together: record.together as unknown as Job['together'],
    measuredRevision: 1,
    cardSeenPx: record.measurement?.card.cornersPx ?? null,
    keptAt: record.changedAt,
  };
}

/** A kept plan taken up again, with its container when that is still kept. */
export function jobOfPlan(plan: PlanRecord, container: ContainerRecord | null): Job {
  const job = container ? jobOfContainer(container) : { ...newJob(plan.id, null, NO_TAPE, null), label: plan.label };
  return { ...job, gauge: plan.gauge, choices: plan.choices, progress: plan.progress, planId: plan.id };
}

/** What is kept of the container in hand. Pictures are kept apart. */
export function containerRecordOf(job: Job): ContainerRecord {
  const measured = job.result?.outcome === 'measured' ? job.result : null;
  return {
    ...newRecord('container', job.label),
    createdAt: job.keptAt ?? Date.now(),
    id: job.id,
    measurement: measured && structuredClone(measured.measurement as ContainerRecord['measurement']),
    furtherPhotos: structuredClone(job.furtherPhotos) as unknown as ContainerRecord['furtherPhotos'],
    together: structuredClone(job.together) as unknown as ContainerRecord['together'],
    warnings: measured ? measured.warnings.map(({ code, message }) => ({ code, message })) : [],
    tape: job.tape,
    photo: job.photo,
  };
}

/** What is kept of its photo: the original only when the maker asked for it. */
export function pictureRecordOf(job: Job, { blanked, original }: Picture, keepOriginalPhoto: boolean): PictureRecord {
  return { containerId: job.id, blanked, original: keepOriginalPhoto ? original : null };
}

/** What is kept of its plan: the inputs, from which the same plan comes again. */
export function planRecordOf(job: Job, id: string, container: Container): PlanRecord {
  return {
    ...newRecord('plan', job.label),
    id,
    containerId: job.id,
    container: plain(container),
    gauge: plain(job.gauge),
    choices: plain(job.choices),
    progress: plain(job.progress),
  };
}

function plain(value: unknown): Record<string, unknown> {
  return structuredClone((value ?? {}) as Record<string, unknown>);
}
