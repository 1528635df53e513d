/** A flat rectangle of known size that gives the photo its scale. */
export interface FlatReference {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly thicknessMm: number;
  readonly cornerRadiusMm: number;
  /** Standard uncertainty of both side lengths, as a share of the length. */
  readonly relativeSd: number;
}

/** A tolerance of ±t without further knowledge is a rectangular distribution: sd = t / √3 (JCGM 100:2008, 4.3.7). */
function sdOfTolerance(tolerance: number): number {
  return tolerance / Math.sqrt(3);
}

/**
 * Identification card format ID-1: 85.60 × 53.98 × 0.76 mm, corner radius 3.18 mm. Source: ISO/IEC 7810.
 * The width tolerance of about ±0.15 % is from memory.
 */
export const ID1_CARD: FlatReference = {
  name: 'ID-1',
  widthMm: 85.6,
  heightMm: 53.98,
  thicknessMm: 0.76,
  cornerRadiusMm: 3.18,
  relativeSd: sdOfTolerance(0.0015),
};

/** Larger card formats of the same standard, same thickness and corners. Source: ISO/IEC 7810. */
const ID2_CARD: FlatReference = { ...ID1_CARD, name: 'ID-2', widthMm: 105, heightMm: 74 };
const ID3_CARD: FlatReference = { ...ID1_CARD, name: 'ID-3', widthMm: 125, heightMm: 88 };

/** Sheets; tolerances of ISO 216: ±1.5 mm to 150 mm, ±2 mm to 600 mm. US Letter (ANSI/ASME Y14.1) is from memory, with the same tolerance. */
function sheet(name: string, widthMm: number, heightMm: number): FlatReference {
  const toleranceMm = widthMm > 150 ? 2 : 1.5;
  return {
    name,
    widthMm,
    heightMm,
    thicknessMm: 0.1,
    cornerRadiusMm: 0,
    relativeSd: sdOfTolerance(toleranceMm / widthMm),
  };
}

export const REFERENCES: readonly FlatReference[] = [
  ID1_CARD,
  ID2_CARD,
  ID3_CARD,
  sheet('A4', 297, 210),
  sheet('A5', 210, 148),
  sheet('A6', 148, 105),
  sheet('US Letter', 279.4, 215.9),
];

/** Share by which a rectangle somebody measured with a ruler may be off: 0.5 mm on 100 mm. */
const RULER_RELATIVE_SD = 0.005;

/**
 * Reads a reference by name ("ID-1", "a4", "us letter") or size in mm ("210x297" or "210x297x0.1").
 * @returns null when it is neither, or a side is not between 20 and 1000 mm
 */
export function parseReference(text: string): FlatReference | null {
  const known = REFERENCES.find((reference) => reference.name.toLowerCase() === text.trim().toLowerCase());
  if (known) return known;
  const size = /^\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)(?:\s*[x×]\s*(\d+(?:\.\d+)?))?\s*$/i.exec(text);
  if (!size) return null;
  const [a, b, thicknessMm] = [Number(size[1]), Number(size[2]), Number(size[3] ?? 0)];
  const [widthMm, heightMm] = [Math.max(a, b), Math.min(a, b)];
  if (heightMm < 20 || widthMm > 1000 || thicknessMm > 50) return null;
  return { name: text.trim(), widthMm, heightMm, thicknessMm, cornerRadiusMm: 0, relativeSd: RULER_RELATIVE_SD };
}
