import { GIVE_SHARED } from '../engine/service-worker-words.ts';

/** The photo shared from another app, once. It is held by the service worker alone, never written anywhere. */
export async function takeSharedPhoto(): Promise<Blob | null> {
  if (!new URLSearchParams(location.search).has('shared')) return null;
  history.replaceState(null, '', location.pathname + location.hash);
  const worker = navigator.serviceWorker?.controller;
  if (!worker) return null;
  const { port1, port2 } = new MessageChannel();
  const answer = new Promise<unknown>((resolve) => {
    port1.onmessage = ({ data }) => resolve(data);
  });
  worker.postMessage(GIVE_SHARED, [port2]);
  const photo = await answer;
  return photo instanceof Blob ? photo : null;
}
