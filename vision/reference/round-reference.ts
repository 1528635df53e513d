import type { FlatReference } from './reference.ts';

/** A flat round thing of known size that gives a photo its scale. */
export interface RoundReference {
  readonly name: string;
  readonly diameterMm: number;
  readonly thicknessMm: number;
  /** Standard uncertainty of the diameter, as a share of it. */
  readonly relativeSd: number;
}

/** Coins are struck in a collar; ±0.1 mm is what wear and tolerance may do (from memory), as a rectangular distribution. */
const COIN_SD_MM = 0.1 / Math.sqrt(3);

function coin(name: string, diameterMm: number, thicknessMm: number): RoundReference {
  return { name, diameterMm, thicknessMm, relativeSd: COIN_SD_MM / diameterMm };
}

/**
 * - Euro coins: diameters published by the European Commission and the European Central Bank; thickness from memory.
 * - US coins: diameters published by the United States Mint; thickness from memory.
 * - Optical disc: 120 mm across, 1.2 mm thick, ISO/IEC 10149 = ECMA-130; its ±0.3 mm from memory.
 */
export const ROUND_REFERENCES: readonly RoundReference[] = [
  coin('2 euro', 25.75, 2.2),
  coin('1 euro', 23.25, 2.33),
  coin('50 cent', 24.25, 2.38),
  coin('20 cent', 22.25, 2.14),
  coin('10 cent', 19.75, 1.93),
  coin('5 cent', 21.25, 1.67),
  coin('2 cent', 18.75, 1.67),
  coin('1 cent', 16.25, 1.67),
  coin('US dollar', 26.49, 2),
  coin('US half dollar', 30.61, 2.15),
  coin('US quarter', 24.26, 1.75),
  coin('US dime', 17.91, 1.35),
  coin('US nickel', 21.21, 1.95),
  coin('US cent', 19.05, 1.52),
  { name: 'optical disc', diameterMm: 120, thicknessMm: 1.2, relativeSd: 0.3 / Math.sqrt(3) / 120 },
];

/** A disc is a square whose corners are rounded to half its side: what it gives the scale by when it lies as a card would. */
export function squareAbout({ name, diameterMm, thicknessMm, relativeSd }: RoundReference): FlatReference {
  return {
    name,
    widthMm: diameterMm,
    heightMm: diameterMm,
    thicknessMm,
    cornerRadiusMm: diameterMm / 2,
    relativeSd,
  };
}

/** A diameter somebody measured with a ruler: 0.5 mm on 100 mm. */
const RULER_RELATIVE_SD = 0.005;

/**
 * Reads a round reference by name ("2 euro", "us quarter", "optical disc") or size in mm ("d60" or "d60x1.5").
 * @returns null when it is neither, or the diameter is not between 10 and 400 mm
 */
export function parseRoundReference(text: string): RoundReference | null {
  const wanted = text.trim().toLowerCase();
  const known = ROUND_REFERENCES.find(({ name }) => name.toLowerCase() === wanted);
  if (known) return known;
  const size = /^d(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?$/.exec(wanted);
  if (!size) return null;
  const [diameterMm, thicknessMm] = [Number(size[1]), Number(size[2] ?? 0)];
  if (diameterMm < 10 || diameterMm > 400 || thicknessMm > 50) return null;
  return { name: text.trim(), diameterMm, thicknessMm, relativeSd: RULER_RELATIVE_SD };
}
