/** Long enough to be felt, too short to be heard, ms. Common practice, no source. */
const TICK_MS = 12;

/** A short tick under the finger, where the device can; nothing for somebody who asked for less motion. */
export function tick(): void {
  if (typeof navigator.vibrate !== 'function') return;
  if (window.matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  navigator.vibrate(TICK_MS);
}
