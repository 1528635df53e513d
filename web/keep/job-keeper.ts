import type { AppState, Job } from '../app/app-state.ts';
import type { Picture } from '../place/use-measured-photo.ts';
import type { PictureRecord } from './database.ts';
import { containerRecordOf, jobOfContainer, jobOfPlan, pictureRecordOf, planRecordOf } from './job-of-record.ts';
import type { Session } from './session.ts';
import type { Store } from './store.ts';

/** What is on screen, as much of it as is written down. */
export interface InHand {
  readonly state: Pick<AppState, 'screen' | 'job' | 'lastGauge'>;
  readonly picture: Pick<Picture, 'blanked' | 'original'> | null;
  readonly keepOriginal: boolean;
}

/** A job that had to be kept beside what another tab made of it. */
export interface KeptBeside {
  readonly jobId: string;
  readonly id: string;
  readonly planId: string;
}

/**
 * Writes the job in hand down as it changes: from its first size on as container and plan, at any time for a reload of
 * this tab. There is no unkept job, so another one can take its place at any moment.
 */
export interface JobKeeper {
  /** Tells what is in hand now. What was in hand before is written at once when it is another job. */
  note(inHand: InHand): void;
  /** Writes what is in hand, if anything of it changed, and waits for all writing. Rejects with StorageTrouble. */
  flush(): Promise<void>;
  /** What another tab made of the job in hand, when it changed it and nothing here is unwritten; null otherwise. */
  changedElsewhere(): Promise<Job | null>;
}

/** Enough to tell by identity whether container or plan changed. */
type Content = readonly unknown[];

interface Known {
  readonly job: string;
  /** Revisions in the store, as of the last writing or taking up. */
  container: number | null;
  plan: number | null;
  containerContent: Content | null;
  planContent: Content | null;
  picture: Content | null;
}

export interface Told {
  keptBeside(beside: KeptBeside): void;
  /** A job that was left could not be written. */
  failed(thrown: unknown): void;
}

export function createJobKeeper(store: Store, session: Session, tell: Told): JobKeeper {
  let inHand: InHand | null = null;
  let known: Known | null = null;
  let stored: Job['stored'] | null = null;
  /** What the session holds already. */
  let held: InHand | null = null;
  let queue: Promise<void> = Promise.resolve();

  const enqueue = (work: () => Promise<void>): Promise<void> => {
    const done = queue.then(work);
    queue = done.catch(() => {});
    return done;
  };

  const writeDown = async (noted: InHand, about: Known | null): Promise<void> => {
    const { job } = noted.state;
    const container =
      job && about && changed(containerContent(job), about.containerContent) ? containerRecordOf(job) : null;
    const plan = job && about && changed(planContent(job), about.planContent) ? planRecordOf(job) : null;
    const records = [
      ...(container ? [{ ...container, revision: about?.container ?? 0 }] : []),
      ...(plan ? [{ ...plan, revision: about?.plan ?? 0 }] : []),
    ];
    const pictures = pictureContent(noted);
    const isKept = container !== null || (about?.container ?? null) !== null;
    const picture: PictureRecord | null =
      job && noted.picture && isKept && about && changed(pictures, about.picture)
        ? pictureRecordOf(job, noted.picture, noted.keepOriginal)
        : null;
    if (records.length === 0 && !picture && held && isSame(held, noted)) return;
    const written = await store.write({
      records,
      picture,
      session: ({ records, bothKept }) => {
        const revisions = { container: about?.container ?? null, plan: about?.plan ?? null };
        for (const record of records)
          if (record.kind === 'container' || record.kind === 'plan') revisions[record.kind] = record.revision;
        const named = job && { ...job, stored: revisions, ...(bothKept ? namesIn(job, records) : {}) };
        return session.record({ ...noted.state, job: named }, picturesOf(noted));
      },
    });
    held = noted;
    if (!job || !about) return;
    for (const record of written.records) {
      if (record.kind === 'container') about.container = record.revision;
      if (record.kind === 'plan') about.plan = record.revision;
    }
    if (container) about.containerContent = containerContent(job);
    if (plan) about.planContent = planContent(job);
    if (picture) about.picture = pictures;
    if (written.bothKept) {
      const names = namesIn(job, written.records);
      if (known === about) known = { ...about, job: names.id };
      tell.keptBeside({ jobId: job.id, ...names });
    }
  };

  return {
    note(next) {
      const { job } = next.state;
      const before = inHand;
      if (before?.state.job && before.state.job.id !== job?.id && before.state.job.id === known?.job) {
        const about = known;
        void enqueue(() => writeDown(before, about)).catch(tell.failed);
      }
      inHand = next;
      // What is there at first was read from the store a moment ago.
      held ??= next;
      if (!job) known = null;
      else if (known?.job !== job.id || job.stored !== stored) known = takenUp(job, next);
      stored = job?.stored ?? null;
    },
    flush: () =>
      enqueue(async () => {
        if (inHand) await writeDown(inHand, known);
      }),
    async changedElsewhere() {
      await queue;
      const job = inHand?.state.job;
      if (!job || !known || known.job !== job.id) return null;
      const unwritten =
        changed(containerContent(job), known.containerContent) || changed(planContent(job), known.planContent);
      if (unwritten) return null;
      const [container, plan] = await Promise.all([store.get('container', job.id), store.get('plan', job.planId)]);
      const isNewer = (record: { revision: number } | null, revision: number | null) =>
        record !== null && revision !== null && record.revision > revision;
      if (!isNewer(container, known.container) && !isNewer(plan, known.plan)) return null;
      if (plan && known.plan !== null) return { ...jobOfPlan(plan, container), id: job.id };
      return container && { ...jobOfContainer(container), planId: job.planId };
    },
  };
}

/** A job that was taken up from the store holds what the store holds; a new one is yet to be written. */
function takenUp(job: Job, inHand: InHand): Known {
  const { container, plan } = job.stored;
  return {
    job: job.id,
    container,
    plan,
    containerContent: container === null ? null : containerContent(job),
    planContent: plan === null ? null : planContent(job),
    picture: container === null ? null : pictureContent(inHand),
  };
}

function containerContent({ label, result, furtherPhotos, together, tape, cardPlaces, order }: Job): Content {
  return [label, result, furtherPhotos, together, tape, cardPlaces, order];
}

function planContent(job: Job): Content {
  const { planBegun, gauge, choices, progress, container } = job;
  return [planBegun, gauge, choices, progress, container, ...containerContent(job)];
}

function pictureContent({ picture, keepOriginal }: InHand): Content {
  return [picture?.blanked ?? null, keepOriginal ? (picture?.original ?? null) : null];
}

function isSame(a: InHand, b: InHand): boolean {
  const parts = ({ state, ...inHand }: InHand): Content => [
    state.screen,
    state.job,
    state.lastGauge,
    ...pictureContent({ state, ...inHand }),
  ];
  return !changed(parts(a), parts(b));
}

function changed(now: Content, before: Content | null): boolean {
  return before === null || now.some((each, k) => each !== before[k]);
}

function namesIn(job: Job, records: readonly { readonly kind: string; readonly id: string }[]) {
  const id = records.find(({ kind }) => kind === 'container')?.id ?? job.id;
  return { id, planId: records.find(({ kind }) => kind === 'plan')?.id ?? job.planId };
}

function picturesOf({ picture, keepOriginal }: InHand) {
  return { blanked: picture?.blanked ?? null, original: keepOriginal ? (picture?.original ?? null) : null };
}
