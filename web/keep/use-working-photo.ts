import { useEffect } from 'react';
import { type StorageReason, storageTrouble } from './storage-trouble.ts';
import { dropSealedPhoto, sealPhoto } from './working-photo.ts';

/**
 * Keeps the photo of the job in hand safe from a reload, and drops it when another job is taken up.
 * @param ready     whether what was left from before has been read
 * @param original  the photo as it came in; null when there is none or it is kept anyway
 */
export function useWorkingPhoto(
  ready: boolean,
  jobId: string | null,
  original: Blob | null,
  tell: (reason: StorageReason) => void,
): void {
  useEffect(() => {
    if (!ready) return;
    const done = jobId && original ? sealPhoto(jobId, original) : dropSealedPhoto();
    done.catch((thrown) => tell(storageTrouble(thrown).reason));
  }, [ready, jobId, original, tell]);
}
