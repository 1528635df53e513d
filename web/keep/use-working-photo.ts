import { useEffect } from 'react';
import { type StorageReason, storageTrouble } from './storage-trouble.ts';
import { dropSealedPhoto, sealPhoto } from './working-photo.ts';

/**
 * Keeps the photo of the job in hand safe from a reload, and drops it when another job is taken up.
 * @param tab       name of this tab's session; null until what was left from before has been read
 * @param file      the photo as it came in, or without its faces; null when there is none or it is kept anyway
 */
export function useWorkingPhoto(
  tab: string | null,
  photo: string | null,
  file: Blob | null,
  isFaceless: boolean,
  tell: (reason: StorageReason) => void,
): void {
  useEffect(() => {
    if (!tab) return;
    const done = photo && file ? sealPhoto(tab, photo, { file, isFaceless }) : dropSealedPhoto(tab);
    done.catch((thrown) => tell(storageTrouble(thrown).reason));
  }, [tab, photo, file, isFaceless, tell]);
}
