/** True where the device can share files with other apps. */
export function canHandOn(file: File): boolean {
  return navigator.canShare?.({ files: [file] }) ?? false;
}

/** To whatever the device shares with, else into its downloads. @param text  goes with the file where it is shared */
export async function handOn(file: File, text?: string): Promise<void> {
  if (canHandOn(file)) {
    const shared = await navigator.share({ files: [file], ...(text && { text }) }).then(
      () => true,
      (reason: unknown) => reason instanceof DOMException && reason.name === 'AbortError',
    );
    if (shared) return;
  }
  saveFile(file);
}

/** Into the device's downloads. */
export function saveFile(file: File): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  // A browser may only begin to read it after a while.
  window.setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
