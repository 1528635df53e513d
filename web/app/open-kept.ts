import { createJobKeeper } from '../keep/job-keeper.ts';
import { jobOfContainer, jobOfPlan } from '../keep/job-of-record.ts';
import { claimSession, openSessions, type Session } from '../keep/session.ts';
import type { StorageReason } from '../keep/storage-trouble.ts';
import { openStore, type Store } from '../keep/store.ts';
import type { Keeping } from '../keep/use-kept-job.ts';
import { dropLeftBehind, unsealPhoto } from '../keep/working-photo.ts';
import type { Job } from './app-state.ts';
import { type Settings, settingsFrom } from './settings.ts';

/** What the browser keeps for us, opened. */
export interface Opened extends Keeping {
  readonly session: Session;
  readonly settings: Settings;
  /** As another tab may have changed them. */
  settingsNow(): Promise<Settings>;
  /** What was lost since the last visit. */
  readonly trouble: StorageReason | null;
}

/** @throws StorageTrouble */
export async function openKept(browserLanguage: string): Promise<Opened> {
  let emptied = false;
  const store = await openStore(undefined, () => {
    emptied = true;
  });
  const settingsNow = async () => settingsFrom(await store.settings(), browserLanguage);
  const settings = await settingsNow();
  const claimed = await claimSession(store);
  const tabs = await openSessions();
  if (tabs) await dropLeftBehind(tabs).catch(() => {});
  const session = { ...claimed, restored: claimed.restored && (await asOfNow(store, claimed)) };
  return {
    store,
    session,
    settings,
    settingsNow,
    trouble: emptied ? 'emptied' : session.damaged ? 'job-damaged' : null,
    keeper: (tell, failed) => createJobKeeper(store, session, { keptBeside: tell, failed }),
  };
}

/** The job this tab was on, with its photo, and with what another tab made of it meanwhile. */
async function asOfNow(store: Store, { id, restored }: Session): Promise<Session['restored']> {
  if (!restored?.job) return restored;
  const { job, original } = restored;
  return {
    ...restored,
    job: await newestOf(store, job),
    original: original ?? (job.photo ? await unsealPhoto(id, job.photo.id) : null),
  };
}

async function newestOf(store: Store, job: Job): Promise<Job> {
  const { edits, past, future, revision, measuredRevision, photo, work } = job;
  const here = { edits, past, future, revision, measuredRevision, photo, work };
  const [container, plan] = await Promise.all([store.get('container', job.id), store.get('plan', job.planId)]);
  const isNewer = (record: { revision: number } | null, known: number | null) =>
    record !== null && known !== null && record.revision > known;
  if (!isNewer(container, job.stored.container) && !isNewer(plan, job.stored.plan)) return job;
  if (plan && job.stored.plan !== null) return { ...jobOfPlan(plan, container), id: job.id, ...here };
  return container ? { ...jobOfContainer(container), planId: job.planId, ...here } : job;
}
