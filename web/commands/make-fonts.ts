import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import subsetFont from 'subset-font';

/**
 * `npm run fonts`: the page's two typefaces, cut down from their packages (both under the SIL Open Font License 1.1)
 * to Western European letters and the weights that are used. Both have tabular figures; a serif that was tried has none.
 */
export interface PageFont {
  readonly file: string;
  readonly from: string;
  /** One weight, or from the lightest to the boldest. */
  readonly weight: number | { readonly min: number; readonly max: number };
}

export const FONTS: readonly PageFont[] = [
  {
    file: 'title.woff2',
    from: '@fontsource-variable/bricolage-grotesque/files/bricolage-grotesque-latin-wght-normal.woff2',
    weight: 700,
  },
  {
    file: 'text.woff2',
    from: '@fontsource-variable/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-wght-normal.woff2',
    weight: { min: 400, max: 700 },
  },
];

/** Basic Latin, Latin-1 with its diacritics, and what our sentences use besides: dashes, quotes, signs, arrows. */
export const LETTERS = [
  ...range(0x20, 0x7e),
  ...range(0xa0, 0xff),
  ...'ŒœŸ–—‘’‚“”„•…‹›€−≤≥→←'.split('').map((letter) => letter.charCodeAt(0)),
]
  .map((code) => String.fromCharCode(code))
  .join('');

export async function pageFont({ from, weight }: PageFont): Promise<Uint8Array> {
  const whole = readFileSync(fileURLToPath(new URL(`../../node_modules/${from}`, import.meta.url)));
  return subsetFont(whole, LETTERS, { targetFormat: 'woff2', variationAxes: { wght: weight } });
}

function range(first: number, last: number): number[] {
  return Array.from({ length: last - first + 1 }, (_, k) => first + k);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const font of FONTS)
    writeFileSync(fileURLToPath(new URL(`../ui/fonts/${font.file}`, import.meta.url)), await pageFont(font));
}
