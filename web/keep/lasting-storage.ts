/** Asks the browser not to clear our data when space runs short. False when it declines or cannot say. */
export async function requestLastingStorage(): Promise<boolean> {
  return (await navigator.storage?.persist?.().catch(() => false)) ?? false;
}
