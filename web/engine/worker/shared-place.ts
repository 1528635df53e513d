/** Where the service worker lays a photo that another app shared with this one. */
export const SHARED_CACHE = 'shared-photo';
export const SHARED_KEY = './shared-photo';
