import type { Container } from '../../sizing/container.ts';
import type { Measurement, MeasureResult } from '../../vision/measurement.ts';
import { type Job, newJob } from '../app/app-state.ts';
import { newPhotoId } from '../engine/measuring.ts';
import { gaugeEntryFrom } from '../gauge/gauge-entry.ts';
import type { Picture } from '../place/use-job.ts';
import { choicesFrom, planProgressFrom } from '../plan/plan-progress.ts';
import type { PictureRecord } from './database.ts';
import { type ContainerRecord, NO_TAPE, newRecord, type PlanRecord } from './records.ts';

/** A kept container taken up again. */
export function jobOfContainer(record: ContainerRecord): Job {
  const result = record.measurement
    ? ({ outcome: 'measured', measurement: record.measurement, warnings: record.warnings } as MeasureResult)
    : null;
  return {
    ...newJob(record.id, record.photo && { ...record.photo, id: record.id }, record.tape, null),
    label: record.label,
    result,
    furtherPhotos: record.furtherPhotos.map((measurement) => ({
      photo: newPhotoId(),
      measurement: measurement as unknown as Measurement,
    })),
    together: record.together as unknown as Job['together'],
    measuredRevision: 1,
    cardPlaces: record.measurement ? [record.measurement.card.cornersPx] : [],
    keptAt: record.changedAt,
  };
}

/** A kept plan taken up again, with its container when that is still kept. */
export function jobOfPlan(plan: PlanRecord, container: ContainerRecord | null): Job {
  const job = container ? jobOfContainer(container) : { ...newJob(plan.id, null, NO_TAPE, null), label: plan.label };
  return {
    ...job,
    gauge: isEmpty(plan.gauge) ? null : gaugeEntryFrom(plan.gauge),
    choices: isEmpty(plan.choices) ? null : choicesFrom(plan.choices),
    progress: isEmpty(plan.progress) ? null : planProgressFrom(plan.progress),
    planId: plan.id,
  };
}

/** What is kept of the container in hand. Pictures are kept apart. */
export function containerRecordOf(job: Job): ContainerRecord {
  const measured = job.result?.outcome === 'measured' ? job.result : null;
  return {
    ...newRecord('container', job.label),
    createdAt: job.keptAt ?? Date.now(),
    id: job.id,
    measurement: measured && structuredClone(measured.measurement as ContainerRecord['measurement']),
    furtherPhotos: structuredClone(
      job.furtherPhotos.map(({ measurement }) => measurement),
    ) as unknown as ContainerRecord['furtherPhotos'],
    together: structuredClone(job.together) as unknown as ContainerRecord['together'],
    warnings: measured ? measured.warnings.map(({ code, message }) => ({ code, message })) : [],
    tape: job.tape,
    photo: job.photo && { widthPx: job.photo.widthPx, heightPx: job.photo.heightPx, lens: job.photo.lens },
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

function isEmpty(kept: object): boolean {
  return Object.keys(kept).length === 0;
}

function plain(value: unknown): Record<string, unknown> {
  return structuredClone((value ?? {}) as Record<string, unknown>);
}
