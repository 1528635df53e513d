/** What page and service worker say to each other about a newer version. */
export const USE_NOW = 'use-now';
export const OTHER_TABS = 'other-tabs';
