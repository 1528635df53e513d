import { claimSession, type Session } from './keep/session.ts';
import { openStore, type Store } from './keep/store.ts';
import { type Settings, settingsFrom } from './settings.ts';

/** What the browser keeps for us, opened. */
export interface Opened {
  readonly store: Store;
  readonly session: Session;
  readonly settings: Settings;
}

/** @throws StorageTrouble */
export async function openKept(browserLanguage: string): Promise<Opened> {
  const store = await openStore();
  const settings = settingsFrom(await store.database.get('setting', 'settings'), browserLanguage);
  return { store, session: await claimSession(store.database), settings };
}
