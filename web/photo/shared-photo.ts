import { GIVE_SHARED } from '../engine/service-worker-words.ts';

/** Photos shared from another app, once. They are held by the service worker alone, never written anywhere. */
export async function takeSharedPhotos(): Promise<readonly Blob[]> {
  if (!new URLSearchParams(location.search).has('shared')) return [];
  history.replaceState(null, '', location.pathname + location.hash);
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return [];
  const { port1, port2 } = new MessageChannel();
  const answer = new Promise<unknown>((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
  });
  worker.postMessage(GIVE_SHARED, [port2]);
  const photos = await answer;
  return Array.isArray(photos) ? photos.filter((photo) => photo instanceof Blob) : [];
}
