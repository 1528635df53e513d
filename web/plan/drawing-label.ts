import { STITCH_FACTS } from '../../sizing/stitches.ts';
import type { Settings } from '../app/settings.ts';
import { shortStitch } from './stitch-words.ts';

const STITCHES = ['ch', 'sl st', ...(Object.keys(STITCH_FACTS) as (keyof typeof STITCH_FACTS)[])] as const;

/** A label of the sizing engine's drawings in the reader's words: German stitches, decimal comma, "increase". */
export function drawingLabel(
  label: string,
  { terms, language }: Pick<Settings, 'terms' | 'language'>,
  increase: string,
): string {
  if (label === 'increase') return increase;
  // The engine knows US and UK names; a German reader's drawing is made with US ones.
  const stitch = terms === 'de' ? STITCHES.find((each) => each === label) : undefined;
  if (stitch) return shortStitch(stitch, terms);
  return language === 'de' ? label.replace(/(\d)\.(\d)/g, '$1,$2') : label;
}
