/**
 * How the page notices that its worker is gone. A worker that ends by itself or is ended by the browser says nothing;
 * but the lock it held is given back at that moment, and the page waits for that lock.
 */

/** In the worker: holds the lock of its name for as long as it lives. Resolves once it does. */
export function beginLife(name: string): Promise<void> {
  if (!navigator.locks || !name) return Promise.resolve();
  return new Promise((resolve) => {
    void navigator.locks.request(name, () => {
      resolve();
      return new Promise<void>(() => {});
    });
  });
}

/** On the page, once the worker has begun: calls `over` when it is gone, unless the signal says that nobody cares any more. */
export function watchLife(name: string, signal: AbortSignal, over: () => void): void {
  navigator.locks?.request(name, { signal }, () => over()).catch(() => {});
}
