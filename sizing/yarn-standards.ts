/**
 * Craft Yarn Council Standard Yarn Weight System (2018): stitches per 4 in (101.6 mm) of single crochet and hook sizes
 * (standard); wraps per inch (standard); metres per 100 g merged from three trade tables (published). "Guidelines
 * only" is part of the standard. Category 0 states its gauge in double crochet; 7 says "5 and fewer" and "16 mm and
 * larger": its other ends are from memory.
 */
export interface YarnCategory {
  readonly number: number;
  readonly name: string;
  readonly stitchesPer4In: readonly [min: number, max: number];
  readonly hookMm: readonly [min: number, max: number];
  readonly wrapsPerInch: readonly [min: number, max: number];
  readonly metresPer100g: readonly [min: number, max: number];
}

export const YARN_CATEGORIES: readonly YarnCategory[] = [
  category(0, 'Lace', [32, 42], [1.5, 2.25], [30, 40], [600, 800]),
  category(1, 'Super Fine', [21, 32], [2.25, 3.5], [14, 30], [350, 600]),
  category(2, 'Fine', [16, 20], [3.5, 4.5], [12, 18], [250, 350]),
  category(3, 'Light', [12, 17], [4.5, 5.5], [11, 15], [200, 250]),
  category(4, 'Medium', [11, 14], [5.5, 6.5], [9, 12], [120, 200]),
  category(5, 'Bulky', [8, 11], [6.5, 9], [6, 9], [90, 130]),
  category(6, 'Super Bulky', [6, 9], [9, 16], [5, 6], [40, 100]),
  category(7, 'Jumbo', [3, 5], [16, 25], [1, 4], [20, 40]),
];

const FOUR_INCHES_MM = 101.6;

/** Stitch width in the middle of a category's gauge band; 4 in are 101.6 mm, not 100. */
export function categoryStitchWidthMm({ stitchesPer4In: [min, max] }: YarnCategory): number {
  return (2 * FOUR_INCHES_MM) / (min + max);
}

/** The category whose middle gauge is nearest in proportion. */
export function categoryOfStitchWidth(stitchWidthMm: number): YarnCategory {
  const distance = (category: YarnCategory) => Math.abs(Math.log(categoryStitchWidthMm(category) / stitchWidthMm));
  return YARN_CATEGORIES.reduce((best, each) => (distance(each) < distance(best) ? each : best));
}

/** Length per 100 g of `strands` equal strands held together: exact (published strand tables). */
export function heldMetresPer100g(metresPer100g: number, strands: number): number {
  return metresPer100g / strands;
}

/** The category whose metres per 100 g a yarn falls into; between bands, the nearer one in proportion. */
export function categoryOfLength(metresPer100g: number): YarnCategory {
  const distance = ({ metresPer100g: [min, max] }: YarnCategory) =>
    metresPer100g < min ? Math.log(min / metresPer100g) : metresPer100g > max ? Math.log(metresPer100g / max) : 0;
  return YARN_CATEGORIES.reduce((best, each) => (distance(each) < distance(best) ? each : best));
}

function category(
  number: number,
  name: string,
  stitchesPer4In: readonly [number, number],
  hookMm: readonly [number, number],
  wrapsPerInch: readonly [number, number],
  metresPer100g: readonly [number, number],
): YarnCategory {
  return { number, name, stitchesPer4In, hookMm, wrapsPerInch, metresPer100g };
}
