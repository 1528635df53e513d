import { cleanupOutdatedCaches, precacheAndRoute } from 'workbox-precaching';
import { SHARED_CACHE, SHARED_KEY } from './shared-place.ts';
import { OTHER_TABS, USE_NOW } from './update-words.ts';

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

// A photo shared from another app arrives as a form; it is laid aside and the page picks it up.
self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'POST' || !new URL(request.url).pathname.endsWith('/share')) return;
  event.respondWith(
    (async () => {
      const photo = (await request.formData()).get('photo');
      const cache = await caches.open(SHARED_CACHE);
      if (photo instanceof Blob) await cache.put(SHARED_KEY, new Response(photo));
      return Response.redirect('./?shared', 303);
    })(),
  );
});
