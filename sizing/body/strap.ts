import type { Choices, StrapChoices } from '../choices.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { LoadPlan, Round, StrapPlan } from '../plan.ts';

/**
 * Finished lengths. Cross-body: 1140-1370 mm end to end (published); 1200 mm is common practice and lies in it.
 * Shoulder 600-1000 mm, wrist 300-400 mm and a handle of 350 mm: common practice, no source.
 */
const STYLE_LENGTH_MM: Readonly<Record<StrapPlan['style'], number>> = {
  'cross-body': 1200,
  shoulder: 800,
  wrist: 350,
  handles: 350,
};

/**
 * A full container heavier than this gets a doubled cord that runs under its base, and beyond the second figure no strap
 * at all unless one is asked for: common practice, no source. Wool and cotton are strong enough; seams are not.
 */
export const HEAVY_G = 1500;
export const TOO_HEAVY_G = 3000;

/** Stretch of a firm cord under the full load: 2-10 %, common practice, no source. */
const CORD_STRETCH = 0.05;

/** Cord laid on its tab, or over its other end, and sewn down: common practice, no source. */
const SEW_ON_MM = 25;

/** Enough to sew 25 mm along both edges and across, twice through: common practice, no source. */
const SEWING_TAIL_MM = 400;

/** A tab is this wide, so that the cord lies on it with an edge to spare, and has at least so many rows. */
const TAB_WIDTH_MM = 20;
const MOST_TAB_STITCHES = 8;
const FEWEST_TAB_ROWS = 4;

/** A flat strap has four to six single crochets a row, near the width of a tab: common practice, no source. */
const FLAT_STITCHES = [4, 6] as const;

/** One cord stitch over a stitch width: 0.5-1.0, common practice, no source. */
const CORD_STITCH_OVER_WIDTH = 0.7;

export interface StrapPlace {
  /** Stitches of the round it is fastened to. */
  readonly topStitches: number;
  readonly on: StrapPlan['on'];
  /** Along the container from the middle of its base to that round. */
  readonly reachMm: number;
}

/** A firm cord by length; null when none is wanted, or the full container is too heavy for one. */
export function strapOf(choices: Choices, gauge: Gauge, load: LoadPlan, place: StrapPlace): StrapPlan | null {
  const style = strapStyle(choices, load);
  if (style === null) return null;
  const isHeavy = load.fullMassG.value > HEAVY_G;
  const { strap } = choices;
  const fastening = strap.fastening === 'by-load' ? (isHeavy ? 'under-base' : 'tabs') : strap.fastening;
  const cord = strap.cord === 'by-load' ? (isHeavy ? 'double' : 'single') : strap.cord;
  const { lengthMm, source } = strapLength(strap, style);
  const cordLengthMm = lengthOfCord(lengthMm / (1 + CORD_STRETCH), style, fastening, place);
  const around = style === 'handles' && fastening === 'tabs' ? 2 : 1;
  const tab = fastening === 'tabs' ? tabOf(gauge, place.topStitches, style === 'handles' ? 4 : 2) : null;
  const across = cord === 'flat' ? flatStitches(gauge, tab) : 1;
  const stepMm = cord === 'flat' ? roundHeightMm(gauge, 'sc') : cordStitchMm(gauge);
  return {
    style,
    fastening,
    cord,
    lengthMm,
    lengthSource: source,
    pieces: around * (cord === 'double' ? 2 : 1),
    cordLengthMm,
    stitches: Math.ceil(cordLengthMm / stepMm),
    across,
    tailMm: SEWING_TAIL_MM,
    sewMm: SEW_ON_MM,
    tab,
    at: placesAround(place.topStitches, style === 'handles' ? 4 : 2),
    topStitches: place.topStitches,
    on: place.on,
  };
}

function strapStyle({ carrier, strap }: Choices, load: LoadPlan): StrapPlan['style'] | null {
  if (carrier === 'mat' || strap.style === 'none') return null;
  if (strap.style !== 'by-load') return strap.style;
  return load.fullMassG.value > TOO_HEAVY_G ? null : 'cross-body';
}

/**
 * On tabs: the free length and what lies on the tabs. Under the base: a ring that runs down one side, under the base and
 * up the other (twice with two handles), its ends overlapped.
 */
function lengthOfCord(
  freeMm: number,
  style: StrapPlan['style'],
  fastening: StrapPlan['fastening'],
  { reachMm }: StrapPlace,
): number {
  if (fastening === 'tabs') return freeMm + 2 * SEW_ON_MM;
  const times = style === 'handles' ? 2 : 1;
  return times * (freeMm + 2 * reachMm) + 2 * SEW_ON_MM;
}

/** As high as the cord is sewn on, and never so wide that tabs meet. */
function tabOf(gauge: Gauge, topStitches: number, tabs: number): NonNullable<StrapPlan['tab']> {
  const rowMm = roundHeightMm(gauge, 'sc');
  const rows = Math.max(FEWEST_TAB_ROWS, Math.ceil(SEW_ON_MM / rowMm));
  const wanted = Math.max(3, Math.ceil(TAB_WIDTH_MM / gauge.stitchWidthMm.value));
  const room = Math.max(1, Math.floor(topStitches / tabs) - 1);
  return { stitches: Math.min(wanted, MOST_TAB_STITCHES, room), rows, heightMm: rows * rowMm };
}

/** No wider than the tab it is sewn to. */
function flatStitches(gauge: Gauge, tab: StrapPlan['tab']): number {
  const [fewest, most] = FLAT_STITCHES;
  const wanted = Math.round(TAB_WIDTH_MM / gauge.stitchWidthMm.value);
  return Math.max(1, Math.min(Math.max(fewest, Math.min(most, wanted)), tab?.stitches ?? most));
}

/** Stitches that lie evenly around, the first of the round included. */
function placesAround(stitches: number, count: number): number[] {
  return Array.from({ length: count }, (_, index) => Math.floor((index * stitches) / count) + 1);
}

/** Length of one cord stitch: sampled, or a share of the stitch width. */
export function cordStitchMm(gauge: Gauge): number {
  return gauge.cordSample?.stitchLengthMm.value ?? CORD_STITCH_OVER_WIDTH * gauge.stitchWidthMm.value;
}

/** The tabs, if any, and the cord. */
export function strapRounds(strap: StrapPlan, firstNumber: number): Round[] {
  const { tab, at, stitches, across, pieces } = strap;
  const isFlat = strap.cord === 'flat';
  const piece = { part: 'strap', starts: 'next stitch', spaces: 0, widthMm: null, heightMm: null } as const;
  const rest = { ...piece, flatness: null, notes: [] };
  const cord: Round = {
    ...rest,
    number: firstNumber + (tab ? 1 : 0),
    closing: 'cord',
    stitch: isFlat ? 'sc' : null,
    steps: [isFlat ? { do: 'strip', stitches: across, rows: stitches, pieces } : { do: 'cord', stitches, pieces }],
    stitches: isFlat ? across : stitches,
  };
  if (!tab) return [cord];
  const steps = [{ do: 'tab', stitches: tab.stitches, rows: tab.rows, pieces: at.length }] as const;
  return [{ ...rest, number: firstNumber, closing: 'rows', stitch: 'sc', steps, stitches: tab.stitches }, cord];
}

function strapLength(
  strap: StrapChoices,
  style: StrapPlan['style'],
): { lengthMm: number; source: StrapPlan['lengthSource'] } {
  if (strap.lengthMm !== null) return { lengthMm: strap.lengthMm, source: 'typed' };
  if (strap.wearerAroundMm !== null) return { lengthMm: strap.wearerAroundMm, source: 'wearer' };
  return { lengthMm: STYLE_LENGTH_MM[style], source: 'style' };
}
