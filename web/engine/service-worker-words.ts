/** What page and service worker call things between them. */

export { SHARED_CACHE, SHARED_KEY } from './worker/shared-place.ts';
export { OTHER_TABS, USE_NOW } from './worker/update-words.ts';
