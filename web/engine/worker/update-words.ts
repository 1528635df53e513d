/** What page and service worker say to each other. */
export const USE_NOW = 'use-now';
export const OTHER_TABS = 'other-tabs';
/** The page is going away: by a reload, a link, or because its tab is closed. */
export const TAB_GOES = 'tab-goes';
/** The page asks for the photos that another app shared. */
export const GIVE_SHARED = 'give-shared';
