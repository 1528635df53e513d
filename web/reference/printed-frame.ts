import { type FlatReference, ID1_CARD } from '../../vision/reference/reference.ts';

/** Length of the line whose print the maker verifies: long enough to see one part in 300 with a household ruler. */
export const CHECK_LENGTH_MM = 150;

const NAME = 'printed frame';

/** Paper of 80 g/m² is about this thick (common practice, no source). */
const PAPER_THICKNESS_MM = 0.1;
/** How well a printed line is read with a household ruler, as a standard uncertainty. */
export const CHECK_READING_SD_MM = 0.3;
/** Printers stretch along and across the sheet by slightly different amounts (common practice, no source). */
const UNEVEN_RELATIVE_SD = 0.002;

/**
 * The printed card frame as a reference, from what the maker read on the check line.
 * @param checkedMm  true length of the printed check line
 * @returns null when no printer would have rescaled so much (more than 15 %): a misreading
 */
export function printedFrame(checkedMm: number): FlatReference | null {
  const scale = checkedMm / CHECK_LENGTH_MM;
  if (!(Math.abs(scale - 1) <= 0.15)) return null;
  return {
    name: `${NAME} ${checkedMm}/${CHECK_LENGTH_MM}`,
    widthMm: ID1_CARD.widthMm * scale,
    heightMm: ID1_CARD.heightMm * scale,
    thicknessMm: PAPER_THICKNESS_MM,
    cornerRadiusMm: ID1_CARD.cornerRadiusMm * scale,
    relativeSd: Math.hypot(CHECK_READING_SD_MM / checkedMm, UNEVEN_RELATIVE_SD),
  };
}

/** What was read on the check line of a printed frame, from its name; null for other references. */
export function checkedLengthNamed(name: string): number | null {
  const read = new RegExp(`^${NAME} (\\d+(?:\\.\\d+)?)/${CHECK_LENGTH_MM}$`).exec(name);
  return read && Number(read[1]);
}
