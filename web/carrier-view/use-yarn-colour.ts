import { useState } from 'react';
import { USUAL_YARN } from './yarn-colours.ts';

const KEPT_AS = 'roundwise-yarn-colour';

/** The yarn colour chosen last, on this device. */
export function useYarnColour(): readonly [string, (colour: string) => void] {
  const [colour, setColour] = useState(() => keptColour() ?? USUAL_YARN);
  return [
    colour,
    (chosen) => {
      setColour(chosen);
      try {
        localStorage.setItem(KEPT_AS, chosen);
      } catch {
        // Without storage the colour is as at first on the next visit.
      }
    },
  ];
}

export function keptColour(): string | null {
  try {
    const kept = localStorage.getItem(KEPT_AS) ?? '';
    return /^#[0-9a-f]{6}$/.test(kept) ? kept : null;
  } catch {
    return null;
  }
}
