/** What a tape at the table says, in mm; null where it was not used. */
export interface Tape {
  readonly circumferenceMm: number | null;
  readonly baseCircumferenceMm: number | null;
  readonly heightMm: number | null;
}
export const NO_TAPE: Tape = { circumferenceMm: null, baseCircumferenceMm: null, heightMm: null };
