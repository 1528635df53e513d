/** What page and service worker call things between them. */
export { GIVE_SHARED, OTHER_TABS, TAB_GOES, USE_NOW } from './worker/update-words.ts';
