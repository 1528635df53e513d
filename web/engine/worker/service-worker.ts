import { cleanupOutdatedCaches, precacheAndRoute } from 'workbox-precaching';
import { GIVE_SHARED, OTHER_TABS, TAB_GOES, USE_NOW } from './update-words.ts';

declare const self: ServiceWorkerGlobalScope & { readonly __WB_MANIFEST: { url: string; revision: string | null }[] };

// The whole page, engine included, so that it works with the network cut after the first visit.
precacheAndRoute(self.__WB_MANIFEST, { ignoreURLParametersMatching: [/^shared$/] });
cleanupOutdatedCaches();

// A newer version waits until every tab is closed; only the maker can ask for it sooner, from the last tab that is open:
// another one may be in the middle of a job.
self.addEventListener('message', (event) => {
  if (event.data !== USE_NOW) return;
  event.waitUntil(
    (async () => {
      const tabs = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
      if (tabs.length > 1) event.source?.postMessage(OTHER_TABS);
      else await self.skipWaiting();
    })(),
  );
});
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

/** A reloaded page is back within this time, also on a slow phone. */
const RELOADED_AFTER_MS = 10_000;

// What tabs laid aside for a reload is of no use to anybody once the last of them is closed.
self.addEventListener('message', (event) => {
  if (event.data !== TAB_GOES) return;
  event.waitUntil(
    (async () => {
      await new Promise((resolve) => setTimeout(resolve, RELOADED_AFTER_MS));
      const tabs = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
      if (tabs.length === 0) await caches.delete('working-photo');
    })(),
  );
});

/** Photos shared from another app, held here only: when no page comes for them, they go with this worker. */
let shared: readonly Blob[] = [];

self.addEventListener('message', (event) => {
  if (event.data !== GIVE_SHARED) return;
  event.ports[0]?.postMessage(shared);
  shared = [];
});

// Earlier versions laid a shared photo aside as it came.
self.addEventListener('activate', (event) => event.waitUntil(caches.delete('shared-photo')));

// Photos shared from another app arrive as a form; the page that is opened for them asks for them.
self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'POST' || !new URL(request.url).pathname.endsWith('/share')) return;
  event.respondWith(
    (async () => {
      shared = (await request.formData()).getAll('photo').filter((photo) => photo instanceof Blob);
      return Response.redirect('./?shared', 303);
    })(),
  );
});
