import { type FlatReference, parseReference } from '../../vision/reference/reference.ts';
import { parseRoundReference, type RoundReference } from '../../vision/reference/round-reference.ts';
import { checkedLengthNamed, printedFrame } from './printed-frame.ts';

/** A reference as it is written down in a job or a kept container: also the printed frame, which only the page knows. */
export function referenceNamed(name: string): FlatReference | null {
  const checkedMm = checkedLengthNamed(name);
  return checkedMm === null ? parseReference(name) : printedFrame(checkedMm);
}

/** As referenceNamed, coins and discs too. */
export function anyReferenceNamed(name: string): FlatReference | RoundReference | null {
  return referenceNamed(name) ?? parseRoundReference(name);
}

/** Whether a reference, null for the bank card, is a coin or disc. */
export function isRoundNamed(name: string | null): boolean {
  return name !== null && !referenceNamed(name) && parseRoundReference(name) !== null;
}

/** Sides and thickness of a rectangle of the maker's own, as she types them. */
export interface OwnRectangle {
  readonly longMm: number | null;
  readonly shortMm: number | null;
  readonly thicknessMm: number | null;
}

/** The name of a rectangle of her own; null until its sides are a possible reference. */
export function nameOfRectangle({ longMm, shortMm, thicknessMm }: OwnRectangle): string | null {
  if (longMm === null || shortMm === null) return null;
  const name = `${longMm}x${shortMm}x${thicknessMm ?? 0}`;
  return parseReference(name) ? name : null;
}

/** Sides of a reference that is named by its size; null for one that has a name of its own. */
export function rectangleNamed(name: string): OwnRectangle | null {
  const size = /^(\d[\d.]*)x(\d[\d.]*)x(\d[\d.]*)$/.exec(name);
  return size && { longMm: Number(size[1]), shortMm: Number(size[2]), thicknessMm: Number(size[3]) };
}
