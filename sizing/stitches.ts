/** Stitches by their US names; the terms of a plan are chosen when it is printed. */
export const FABRIC_STITCHES = ['sc', 'hdc', 'dc', 'tr'] as const;
export type FabricStitch = (typeof FABRIC_STITCHES)[number];
export type Stitch = FabricStitch | 'ch' | 'sl st';
export type Terms = 'us' | 'uk';

export interface StitchFacts {
  /** Height of a round over width of a stitch. */
  readonly heightOverWidth: number;
  /** Length of yarn in one stitch over its width. */
  readonly yarnOverWidth: number;
  /** Chains that lift the hook to the height of this stitch at the start of a joined round. */
  readonly turningChain: number;
  /** Whether that chain stands for the first stitch (custom). */
  readonly chainCounts: boolean;
  /** Customary number to start a flat circle with, and to add each round. */
  readonly customaryStart: readonly [min: number, max: number];
}

/**
 * - heightOverWidth: sc mean of eleven yarn-company leaflets (published, sd 0.05), hdc of three (13 x 10, 13 x 9, and
 *   10 x 8 in a herringbone variant), dc of two (published); tr from memory.
 * - yarnOverWidth: derived from a measured set of 5-inch samples (published: 31.42, 32.08, 31.6 in per square inch for
 *   sc, hdc, dc: yarn per area is the same within 2 % whatever the stitch); tr from that area figure and its height
 *   (derived), as no sample of it was measured.
 * - turningChain: guild lesson (standard). customaryStart: published tutorials.
 */
export const STITCH_FACTS: Readonly<Record<FabricStitch, StitchFacts>> = {
  sc: { heightOverWidth: 0.9, yarnOverWidth: 9, turningChain: 1, chainCounts: false, customaryStart: [6, 6] },
  hdc: { heightOverWidth: 1.33, yarnOverWidth: 13.6, turningChain: 2, chainCounts: false, customaryStart: [8, 8] },
  dc: { heightOverWidth: 1.61, yarnOverWidth: 16.2, turningChain: 3, chainCounts: true, customaryStart: [10, 12] },
  tr: { heightOverWidth: 2.4, yarnOverWidth: 24.2, turningChain: 4, chainCounts: true, customaryStart: [15, 16] },
};

/** Yarn in one chain over its length: measured set, 25.5 in of yarn for 5 in of chain (published). */
export const CHAIN_YARN_OVER_LENGTH = 4.95;

/** Yarn in one slip stitch over its width: taken as a chain's (from memory). */
export const SLIP_YARN_OVER_WIDTH = 4.95;

/** Relative standard uncertainty of every yarn figure without a swatch: back-check on four leaflets (derived). */
export const YARN_RELATIVE_SD = 0.15;

/** Craft Yarn Council Standards & Guidelines (2018), page 2: US and UK names (standard). */
const UK_NAMES: Readonly<Record<Stitch, string>> = {
  ch: 'ch',
  'sl st': 'ss',
  sc: 'dc',
  hdc: 'htr',
  dc: 'tr',
  tr: 'dtr',
};

const LONG_NAMES: Readonly<Record<Terms, Readonly<Record<Stitch, string>>>> = {
  us: {
    ch: 'chain',
    'sl st': 'slip stitch',
    sc: 'single crochet',
    hdc: 'half double crochet',
    dc: 'double crochet',
    tr: 'treble crochet',
  },
  uk: {
    ch: 'chain',
    'sl st': 'slip stitch',
    sc: 'double crochet',
    hdc: 'half treble crochet',
    dc: 'treble crochet',
    tr: 'double treble crochet',
  },
};

/** Abbreviation of a stitch in the chosen term set. */
export function stitchName(stitch: Stitch, terms: Terms): string {
  return terms === 'us' ? stitch : UK_NAMES[stitch];
}

/** Full name of a stitch in the chosen term set. */
export function stitchLongName(stitch: Stitch, terms: Terms): string {
  return LONG_NAMES[terms][stitch];
}
