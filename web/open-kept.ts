import { claimSession, type Session } from './keep/session.ts';
import type { StorageReason } from './keep/storage-trouble.ts';
import { openStore, type Store } from './keep/store.ts';
import { type Settings, settingsFrom } from './settings.ts';

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
  const settings = settingsFrom(await store.database.get('setting', 'settings'), browserLanguage);
  const session = await claimSession(store.database);
  return { store, session, settings, trouble: emptied ? 'emptied' : session.damaged ? 'job-damaged' : null };
}
