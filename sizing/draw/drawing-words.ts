import type { Stitch } from '../stitches.ts';

/** What drawings have to say, in the reader's language, terms and units; and the hand the work is drawn for. */
export interface DrawingWords {
  readonly hand: 'right' | 'left';
  readonly stitch: (stitch: Stitch) => string;
  readonly length: (mm: number) => string;
  readonly increase: string;
  readonly ring: string;
  readonly start: string;
  readonly baseTitle: string;
  readonly baseDescription: (counts: readonly number[]) => string;
  readonly bodyTitle: string;
  readonly bodyDescription: (cells: number) => string;
  /** What stands under the part of a chart that repeats so often in a round. */
  readonly repeat: (times: number) => string;
  readonly sideTitle: string;
  readonly sideDescription: (widestMm: number, heightMm: number, coverMm: number) => string;
  readonly around: (mm: number) => string;
  readonly strap: (mm: number) => string;
}
