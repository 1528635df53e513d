const CACHE = 'working-photo';
const KEY = 'roundwise-photo-key';

/** What this tab needs to read its photo again. */
interface TabKey {
  readonly tab: string;
  readonly photo: string;
  readonly isFaceless?: boolean;
  readonly key: JsonWebKey;
  readonly nonce: readonly number[];
}

/** A photo, as it came in until it is known where the cards are, then without their faces. */
interface ToSeal {
  readonly file: Blob;
  readonly isFaceless: boolean;
}

/**
 * Lays the photo of the job in hand aside, so that a reload does not lose it. It is sealed: what lies in storage shows
 * nobody's card. Its key is kept with the tab, which the browser writes into the profile on disk as well, so whoever has
 * the whole profile can open it; that is why nothing sealed is left behind (`dropLeftBehind`, and the service worker when
 * the last tab closes). Where the browser offers no sealing (a page that did not come over https) nothing is laid aside.
 * @param tab    name of this tab's session
 * @param photo  name of the photo
 * @throws DOMException when storage is full or blocked
 */
export async function sealPhoto(tab: string, photo: string, { file, isFaceless }: ToSeal): Promise<void> {
  const before = ownKey(tab);
  const isSealed = before?.photo === photo && (before.isFaceless || !isFaceless);
  if (typeof caches === 'undefined' || !crypto.subtle || isSealed) return;
  if (before?.photo !== photo) await dropSealedPhoto(tab);
  const cache = await caches.open(CACHE);
  const key = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, true, ['encrypt', 'decrypt']);
  const nonce = crypto.getRandomValues(new Uint8Array(12));
  const sealed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: nonce }, key, await file.arrayBuffer());
  await cache.put(placeOf(tab, photo), new Response(sealed, { headers: { 'Content-Type': file.type } }));
  const kept: TabKey = { tab, photo, isFaceless, key: await crypto.subtle.exportKey('jwk', key), nonce: [...nonce] };
  sessionStorage.setItem(KEY, JSON.stringify(kept));
}

/** The photo this tab laid aside; null when there is none, or another tab did. */
export async function unsealPhoto(tab: string, photo: string): Promise<Blob | null> {
  const kept = ownKey(tab);
  if (kept?.photo !== photo || typeof caches === 'undefined') return null;
  try {
    const sealed = await (await caches.open(CACHE)).match(placeOf(tab, photo));
    if (!sealed) return null;
    const key = await crypto.subtle.importKey('jwk', kept.key, 'AES-GCM', false, ['decrypt']);
    const iv = Uint8Array.from(kept.nonce);
    const file = await crypto.subtle.decrypt({ name: 'AES-GCM', iv }, key, await sealed.arrayBuffer());
    return new Blob([file], { type: sealed.headers.get('Content-Type') ?? '' });
  } catch {
    return null;
  }
}

/** Once the job in hand is another one. What a copied tab inherited is the first tab's and stays. */
export async function dropSealedPhoto(tab: string): Promise<void> {
  const kept = ownKey(tab);
  if (typeof caches === 'undefined') return;
  sessionStorage.removeItem(KEY);
  if (kept) await (await caches.open(CACHE)).delete(placeOf(tab, kept.photo));
}

/** Deletes what tabs that are closed left sealed. */
export async function dropLeftBehind(openTabs: readonly string[]): Promise<void> {
  if (typeof caches === 'undefined') return;
  const cache = await caches.open(CACHE);
  for (const place of await cache.keys()) {
    const isOpen = openTabs.some((tab) => new URL(place.url).pathname.includes(`/${CACHE}/${tab}/`));
    if (!isOpen) await cache.delete(place);
  }
}

function placeOf(tab: string, photo: string): string {
  return `./${CACHE}/${tab}/${photo}`;
}

/** The key, unless it came from another tab that this one was copied from. */
function ownKey(tab: string): TabKey | null {
  try {
    const kept = JSON.parse(sessionStorage.getItem(KEY) ?? 'null') as TabKey | null;
    return kept?.tab === tab ? kept : null;
  } catch {
    return null;
  }
}
