import { useEffect, useRef } from 'react';

/** Photos that are pasted or dropped anywhere on the page. @param onPhotos  null where none are taken */
export function useArrivingPhotos(onPhotos: ((files: readonly File[]) => void) | null): void {
  const take = useRef(onPhotos);
  take.current = onPhotos;
  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      const pictures = [...(event.clipboardData?.files ?? [])].filter(({ type }) => type.startsWith('image/'));
      if (pictures.length > 0) take.current?.(pictures);
    };
    const over = (event: DragEvent) => event.dataTransfer?.types.includes('Files') && event.preventDefault();
    const drop = (event: DragEvent) => {
      const dropped = [...(event.dataTransfer?.files ?? [])];
      if (dropped.length === 0) return;
      event.preventDefault();
      // HEIC has no type everywhere.
      const pictures = dropped.filter(({ type }) => type === '' || type.startsWith('image/'));
      if (pictures.length > 0) take.current?.(pictures);
    };
    document.addEventListener('paste', paste);
    document.addEventListener('dragover', over);
    document.addEventListener('drop', drop);
    return () => {
      document.removeEventListener('paste', paste);
      document.removeEventListener('dragover', over);
      document.removeEventListener('drop', drop);
    };
  }, []);
}
