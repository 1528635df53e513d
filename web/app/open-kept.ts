import { finished } from '../keep/database.ts';
import { claimSession, type Session } from '../keep/session.ts';
import { type StorageReason, storageTrouble } from '../keep/storage-trouble.ts';
import { openStore, type Store } from '../keep/store.ts';
import { unsealPhoto } from '../keep/working-photo.ts';
import { type Settings, settingsFrom } from './settings.ts';

const SETTINGS_KEY = 'settings';

/** What the browser keeps for us, opened. */
export interface Opened {
  readonly store: Store;
  readonly session: Session;
  readonly settings: Settings;
  /** What was lost since the last visit. */
  readonly trouble: StorageReason | null;
}

/** @throws StorageTrouble */
export async function openKept(browserLanguage: string): Promise<Opened> {
  let emptied = false;
  const store = await openStore(undefined, () => {
    emptied = true;
  });
  const settings = settingsFrom(await store.database.get('setting', SETTINGS_KEY), browserLanguage);
  const claimed = await claimSession(store.database);
  const session = { ...claimed, restored: claimed.restored && (await withWorkingPhoto(claimed.restored)) };
  return { store, session, settings, trouble: emptied ? 'emptied' : session.damaged ? 'job-damaged' : null };
}

/** @throws StorageTrouble */
export async function keepSettings({ database }: Store, settings: Settings): Promise<void> {
  const transaction = database.transaction('setting', 'readwrite');
  await finished(transaction, [transaction.store.put(settings, SETTINGS_KEY)]).catch((thrown) => {
    throw storageTrouble(thrown);
  });
}

type Restored = NonNullable<Session['restored']>;

/** The photo of the job in hand outlives a reload of its tab, whether or not the maker keeps originals. */
async function withWorkingPhoto(restored: Restored): Promise<Restored> {
  const { job, original } = restored;
  return { ...restored, original: original ?? (job?.photo ? await unsealPhoto(job.id) : null) };
}
