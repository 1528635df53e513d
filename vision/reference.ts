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

/** Identification card format ID-1. Source: ISO/IEC 7810 (85.60 × 53.98 × 0.76 mm, corner radius 3.18 mm, width tolerance about ±0.15 %). */
export const ID1_CARD: FlatReference = {
  name: 'ID-1',
  widthMm: 85.6,
  heightMm: 53.98,
  thicknessMm: 0.76,
  cornerRadiusMm: 3.18,
  relativeSd: 0.0015 / Math.sqrt(3),
};
