/** A piece of software inside the page. */
export interface ShippedPart {
  readonly name: string;
  readonly version: string;
  /** SPDX identifier. */
  readonly licence: string;
  /** Address of its source, as its package states it. */
  readonly source: string | null;
  /** Where its licence texts are in `texts`. */
  readonly textIndexes: readonly number[];
}

/** Everything inside the page that is not ours alone, made at build time from the installed packages. */
export interface Licences {
  readonly parts: readonly ShippedPart[];
  readonly texts: readonly string[];
}

/** Lies beside the page, so that the texts are no part of its code. */
export const LICENCES_FILE = 'licences.json';
