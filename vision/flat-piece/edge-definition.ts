import { type Problem, problem } from '../measurement.ts';

/**
 * Blur, sharpening and compression move an edge between two clearly different colours by about this, px.
 * This and the share of the rim: maximum likelihood (Student t, 4 degrees) over 494 sizes of made-up pieces (seeds
 * 5001–5100) seen with the true camera gave 0.25 and 0.02; real rims may be less regular.
 */
const COLOUR_EDGE_SD_PX = 0.25;
/** Evidence per pixel of clearly different colours; with half of it an edge is found half as well. */
const CLEAR_CONTRAST = 1.6;
/** Below this the maker should look at the edge herself. */
const POOR_CONTRAST = 0.8;
/** Half-round rim, shadow under it, fuzz before it: how well the edge of yarn is defined, as a share of its thickness. */
const RIM_SD_SHARE = 0.03;

/**
 * Standard uncertainty of where "the edge" of a piece of work is, common to the whole edge, mm.
 * @param contrast  of the traced edge; null for an edge placed by hand
 */
export function edgeSd(thicknessMm: number, mmPerPx: number, contrast: number | null): number {
  const unclear = contrast === null ? 1 : Math.max(1, CLEAR_CONTRAST / Math.max(contrast, 0.1));
  return Math.hypot(COLOUR_EDGE_SD_PX * unclear * mmPerPx, RIM_SD_SHARE * thicknessMm);
}

/** Contrast of an edge, held down when the work was hardly found at all. */
export function believedContrast(contrast: number, standsOut: boolean): number {
  return standsOut ? contrast : Math.min(contrast, POOR_CONTRAST / 2);
}

/**
 * Where a shadow cannot be told from yarn, the edge found on one side may be the shadow's: anywhere up to as far out as
 * the work is thick, which is what a lamp at 45° does. Root mean square of a rectangular distribution from 0.
 */
export function shadowSd(thicknessMm: number, isLikeShadow: boolean): number {
  return isLikeShadow ? thicknessMm / Math.sqrt(3) : 0;
}

/** What the maker should know of an edge that was traced. */
export function edgeWarnings(edge: { readonly contrast: number | null; readonly isLikeShadow: boolean }): Problem[] {
  const isPoor = edge.contrast !== null && edge.contrast < POOR_CONTRAST;
  return [...(isPoor ? [problem('yarn-like-table')] : []), ...(edge.isLikeShadow ? [problem('yarn-like-shadow')] : [])];
}

/**
 * A dark rim may be shadow on the table or the underside of the yarn. A size that lies anywhere between those with all
 * of it yarn and with all of it shadow has a rectangular distribution: sd = range / √12 (JCGM 100:2008, 4.3.7).
 */
export function rimSd(sizes: readonly number[]): number {
  return (Math.max(...sizes) - Math.min(...sizes)) / Math.sqrt(12);
}
