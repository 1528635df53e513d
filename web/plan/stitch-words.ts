import { type Stitch, stitchLongName, stitchName } from '../../sizing/stitches.ts';
import type { TermSet } from '../app/settings.ts';

/** German trade names: common practice, no source. */
const GERMAN: Readonly<Record<Stitch, readonly [short: string, long: string]>> = {
  ch: ['Lm', 'Luftmasche'],
  'sl st': ['Km', 'Kettmasche'],
  sc: ['fM', 'feste Masche'],
  hdc: ['hStb', 'halbes Stäbchen'],
  dc: ['Stb', 'Stäbchen'],
  tr: ['DStb', 'Doppelstäbchen'],
};

/** Abbreviation of a stitch, given by its US name. */
export function shortStitch(stitch: Stitch, terms: TermSet): string {
  return terms === 'de' ? GERMAN[stitch][0] : stitchName(stitch, terms);
}

export function longStitch(stitch: Stitch, terms: TermSet): string {
  return terms === 'de' ? GERMAN[stitch][1] : stitchLongName(stitch, terms);
}
