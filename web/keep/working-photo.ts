const CACHE = 'working-photo';
const KEY = 'roundwise-photo-key';
/** Tabs closed longer ago than this left something behind that nobody can read. */
const FORGET_AFTER_MS = 2 * 24 * 3600_000;

/** What this tab needs to read its photo again. The browser forgets it with the tab. */
interface TabKey {
  readonly jobId: string;
  readonly key: JsonWebKey;
  readonly nonce: readonly number[];
}

/**
 * Lays the photo of the job in hand aside, so that a reload does not lose it. It is sealed with a key that only this tab
 * knows: what lies in storage shows nobody's card, and once the tab is closed nobody can open it.
 * Where the browser offers no sealing (a page that did not come over https) nothing is laid aside.
 * @throws DOMException when storage is full or blocked
 */
export async function sealPhoto(jobId: string, photo: Blob): Promise<void> {
  if (typeof caches === 'undefined' || !crypto.subtle || tabKey()?.jobId === jobId) return;
  await dropSealedPhoto();
  const cache = await caches.open(CACHE);
  await dropLeftBehind(cache);
  const key = await crypto.subtle.generateKey({ name: 'AES-GCM', length: 256 }, true, ['encrypt', 'decrypt']);
  const nonce = crypto.getRandomValues(new Uint8Array(12));
  const sealed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: nonce }, key, await photo.arrayBuffer());
  const headers = { 'Content-Type': photo.type, 'Last-Modified': new Date().toUTCString() };
  await cache.put(placeOf(jobId), new Response(sealed, { headers }));
  const kept: TabKey = { jobId, key: await crypto.subtle.exportKey('jwk', key), nonce: [...nonce] };
  sessionStorage.setItem(KEY, JSON.stringify(kept));
}

/** The photo this tab laid aside for the job; null when there is none, or another tab did. */
export async function unsealPhoto(jobId: string): Promise<Blob | null> {
  const kept = tabKey();
  if (kept?.jobId !== jobId || typeof caches === 'undefined') return null;
  try {
    const sealed = await (await caches.open(CACHE)).match(placeOf(jobId));
    if (!sealed) return null;
    const key = await crypto.subtle.importKey('jwk', kept.key, 'AES-GCM', false, ['decrypt']);
    const iv = Uint8Array.from(kept.nonce);
    const photo = await crypto.subtle.decrypt({ name: 'AES-GCM', iv }, key, await sealed.arrayBuffer());
    return new Blob([photo], { type: sealed.headers.get('Content-Type') ?? '' });
  } catch {
    return null;
  }
}

/** Once the job in hand is another one. */
export async function dropSealedPhoto(): Promise<void> {
  const kept = tabKey();
  if (!kept) return;
  sessionStorage.removeItem(KEY);
  await (await caches.open(CACHE)).delete(placeOf(kept.jobId));
}

async function dropLeftBehind(cache: Cache): Promise<void> {
  for (const place of await cache.keys()) {
    const since = (await cache.match(place))?.headers.get('Last-Modified') ?? 0;
    if (Date.now() - new Date(since).getTime() > FORGET_AFTER_MS) await cache.delete(place);
  }
}

function placeOf(jobId: string): string {
  return `./working-photo/${jobId}`;
}

function tabKey(): TabKey | null {
  try {
    return JSON.parse(sessionStorage.getItem(KEY) ?? 'null') as TabKey | null;
  } catch {
    return null;
  }
}
