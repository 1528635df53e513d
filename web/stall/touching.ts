import type { Piece } from './day-sheet.ts';

/** What is done to a piece at the stall. */
export type Touch = 'sold' | 'reserved' | 'free';

/** The pieces that hang there, and what becomes of one. */
export interface Touching {
  readonly hanging: readonly Piece[];
  readonly onTouch: (piece: Piece, to: Touch) => void;
}

/** Pieces that differ in nothing a customer sees stand together. */
export function together<T>(items: readonly T[], pieceOf: (item: T) => Piece): T[][] {
  const alike = new Map<string, T[]>();
  for (const item of items) {
    const { label, carrier } = pieceOf(item);
    const key = JSON.stringify([label, carrier]);
    alike.set(key, [...(alike.get(key) ?? []), item]);
  }
  return [...alike.values()];
}

/** What became of a photo of a piece; `no-card` when none was found, so that the maker says whether there is none. */
export type PictureOutcome = 'kept' | 'no-card' | 'failed';
/** Keeps a picture of a piece, its cards covered. */
export type OnPicture = (piece: Piece, photo: Blob, withoutCard: boolean) => Promise<PictureOutcome>;

/** As many as fill a few screens. */
export const PIECES_AT_ONCE = 24;
