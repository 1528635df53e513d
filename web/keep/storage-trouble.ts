/** Why the browser did not keep something; the page says it in words (text/…/keep.ts). */
export type StorageReason = 'blocked' | 'full' | 'newer-version' | 'broken' | 'emptied' | 'job-damaged';

export class StorageTrouble extends Error {
  readonly reason: StorageReason;

  constructor(reason: StorageReason, cause?: unknown) {
    super(`storage ${reason}`, { cause });
    this.name = 'StorageTrouble';
    this.reason = reason;
  }
}

/** Turns what IndexedDB throws into the reason a maker can act on. */
export function storageTrouble(thrown: unknown): StorageTrouble {
  if (thrown instanceof StorageTrouble) return thrown;
  const name = thrown instanceof Error || thrown instanceof DOMException ? thrown.name : '';
  if (name === 'QuotaExceededError') return new StorageTrouble('full', thrown);
  if (name === 'VersionError') return new StorageTrouble('newer-version', thrown);
  if (name === 'SecurityError' || name === 'InvalidStateError' || name === 'NotAllowedError') {
    return new StorageTrouble('blocked', thrown);
  }
  return new StorageTrouble('broken', thrown);
}
