import type { Choices, StrapChoices, StrapStyle } from '../choices.ts';
import type { Gauge } from '../gauge.ts';
import type { BandFit, Round, StrapPlan } from '../plan.ts';

/**
 * Finished lengths. Cross-body: 1140-1370 mm end to end (published); 1200 mm is common practice and lies in it.
 * Shoulder 600-1000 mm and wrist 300-400 mm: common practice, no source.
 */
const STYLE_LENGTH_MM: Readonly<Record<Exclude<StrapStyle, 'none'>, number>> = {
  'cross-body': 1200,
  shoulder: 800,
  wrist: 350,
};

/** Stretch of a firm cord under the full load: 2-10 %, common practice, no source. */
const CORD_STRETCH = 0.05;

/** Cord laid against the band and sewn down at each end: common practice, no source. */
const SEW_ON_MM = 25;

/** One cord stitch over a stitch width: 0.5-1.0, common practice, no source. */
const CORD_STITCH_OVER_WIDTH = 0.7;

/** A firm cord by length, sewn on at two opposite places of the band; null when none is wanted. */
export function strapOf(choices: Choices, gauge: Gauge, topStitches: number, band: BandFit | null): StrapPlan | null {
  if (choices.strap.style === 'none' || choices.carrier === 'mat') return null;
  const { lengthMm, source } = strapLength(choices.strap, choices.strap.style);
  const cordLengthMm = lengthMm / (1 + CORD_STRETCH) + 2 * SEW_ON_MM;
  const opposite = Math.floor(topStitches / 2) + 1;
  const where = band ? 'band' : 'top round';
  return {
    lengthMm,
    lengthSource: source,
    cordLengthMm,
    stitches: Math.ceil(cordLengthMm / cordStitchMm(gauge)),
    sewOn:
      `Mark stitch 1 and stitch ${opposite} of the ${where} (of ${topStitches}): they lie opposite each other. ` +
      `Lay {${SEW_ON_MM} mm} of the cord flat inside the ${where} at each mark and sew it down along both edges and ` +
      'across the end with a double tail, through every round.',
  };
}

/** Length of one cord stitch: sampled, or a share of the stitch width. */
export function cordStitchMm(gauge: Gauge): number {
  return gauge.cordSample?.stitchLengthMm.value ?? CORD_STITCH_OVER_WIDTH * gauge.stitchWidthMm.value;
}

export function strapRound(strap: StrapPlan, number: number): Round {
  return {
    number,
    part: 'strap',
    closing: 'cord',
    stitch: null,
    steps: [{ do: 'cord', stitches: strap.stitches }],
    stitches: strap.stitches,
    spaces: 0,
    widthMm: null,
    heightMm: null,
    flatness: null,
    note: `Work by length: stop when the cord measures {${strap.cordLengthMm} mm} lying straight, whatever the count.`,
  };
}

function strapLength(
  strap: StrapChoices,
  style: Exclude<StrapStyle, 'none'>,
): { lengthMm: number; source: StrapPlan['lengthSource'] } {
  if (strap.lengthMm !== null) return { lengthMm: strap.lengthMm, source: 'typed' };
  if (strap.wearerAroundMm !== null) return { lengthMm: strap.wearerAroundMm, source: 'wearer' };
  return { lengthMm: STYLE_LENGTH_MM[style], source: 'style' };
}
