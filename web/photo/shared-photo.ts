import { SHARED_CACHE, SHARED_KEY } from '../engine/service-worker-words.ts';

/** The photo shared from another app, once. */
export async function takeSharedPhoto(): Promise<Blob | null> {
  if (typeof caches === 'undefined' || !new URLSearchParams(location.search).has('shared')) return null;
  history.replaceState(null, '', location.pathname + location.hash);
  const cache = await caches.open(SHARED_CACHE);
  const answer = await cache.match(SHARED_KEY);
  await cache.delete(SHARED_KEY);
  return answer ? answer.blob() : null;
}
