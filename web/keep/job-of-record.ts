import type { Container } from '../../sizing/container.ts';
import type { Measurement, MeasureResult } from '../../vision/measurement.ts';
import { type Job, measurementOf, newJob } from '../app/app-state.ts';
import { newPhotoId } from '../engine/measuring.ts';
import type { Picture } from '../place/use-measured-photo.ts';
import { sizedContainer } from '../sizes/sized-container.ts';
import type { PictureRecord } from './database.ts';
import type { ContainerRecord, PlanRecord } from './records.ts';
import { NO_TAPE } from './tape.ts';

/** A kept container taken up again. */
export function jobOfContainer(record: ContainerRecord): Job {
  const result = record.measurement
    ? ({ outcome: 'measured', measurement: record.measurement, warnings: record.warnings } as MeasureResult)
    : null;
  const found = record.measurement ? [record.measurement.card.cornersPx] : [];
  return {
    ...newJob(record.id, record.photo && { ...record.photo, id: record.id }, record.tape, null),
    label: record.label,
    createdAt: record.createdAt,
    result,
    furtherPhotos: record.furtherPhotos.map((measurement) => ({
      photo: newPhotoId(),
      measurement: measurement as unknown as Measurement,
    })),
    together: record.together as unknown as Job['together'],
    order: record.order,
    measuredRevision: 1,
    cardPlaces: record.cardPlaces.length > 0 ? record.cardPlaces : found,
    stored: { container: record.revision, plan: null },
  };
}

/** A kept plan taken up again: with its container when that is still kept, else from the sizes it was planned with. */
export function jobOfPlan(plan: PlanRecord, container: ContainerRecord | null): Job {
  const job = container
    ? jobOfContainer(container)
    : { ...newJob(crypto.randomUUID(), null, NO_TAPE, null), container: plan.container as Container };
  return {
    ...job,
    label: plan.label,
    gauge: plan.gauge,
    choices: plan.choices,
    progress: plan.progress,
    planId: plan.id,
    planBegun: true,
    stored: { ...job.stored, plan: plan.revision },
  };
}

/** The container a job is about, whatever says how large it is; null while nothing does. */
export function containerOfJob(job: Job): Container | null {
  return sizedContainer(measurementOf(job), job.tape) ?? job.container;
}

/** What is kept of the container in hand; null when the job has none of its own. Pictures are kept apart. */
export function containerRecordOf(job: Job): ContainerRecord | null {
  const measured = job.result?.outcome === 'measured' ? job.result : null;
  if (!sizedContainer(measurementOf(job), job.tape)) return null;
  const { photo } = job;
  return {
    id: job.id,
    kind: 'container',
    label: job.label,
    createdAt: job.createdAt,
    changedAt: Date.now(),
    revision: job.stored.container ?? 0,
    measurement: measured && structuredClone(measured.measurement as unknown as ContainerRecord['measurement']),
    furtherPhotos: structuredClone(
      job.furtherPhotos.map(({ measurement }) => measurement),
    ) as unknown as ContainerRecord['furtherPhotos'],
    together: structuredClone(job.together) as unknown as ContainerRecord['together'],
    warnings: measured ? measured.warnings.map(({ code, message }) => ({ code, message })) : [],
    tape: job.tape,
    photo: photo && { widthPx: photo.widthPx, heightPx: photo.heightPx, lens: photo.lens },
    cardPlaces: structuredClone(job.cardPlaces) as ContainerRecord['cardPlaces'],
    order: structuredClone(job.order),
  };
}

/** What is kept of its plan: the inputs, from which the same plan comes again; null before it was begun. */
export function planRecordOf(job: Job): PlanRecord | null {
  const container = containerOfJob(job);
  if (!job.planBegun || !container) return null;
  return {
    id: job.planId,
    kind: 'plan',
    label: job.label,
    createdAt: job.createdAt,
    changedAt: Date.now(),
    revision: job.stored.plan ?? 0,
    containerId: job.container && !containerRecordOf(job) ? null : job.id,
    container: structuredClone(container) as PlanRecord['container'],
    gauge: structuredClone(job.gauge),
    choices: structuredClone(job.choices),
    progress: structuredClone(job.progress),
  };
}

/** What is kept of its photo: the original only when the maker asked for it; null while there is nothing to show. */
export function pictureRecordOf(
  job: Job,
  { blanked, original }: Pick<Picture, 'original' | 'blanked'>,
  keepOriginalPhoto: boolean,
): PictureRecord | null {
  const kept = keepOriginalPhoto ? original : null;
  return blanked || kept ? { containerId: job.id, blanked, original: kept } : null;
}
