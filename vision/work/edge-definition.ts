/** Blur, sharpening and compression move an edge between two colours by about this, px. */
const COLOUR_EDGE_SD_PX = 0.35;
/** Half-round rim, shadow under it, fuzz before it: how well the edge of yarn is defined, as a share of its thickness. */
const RIM_SD_SHARE = 0.05;

/** Standard uncertainty of where "the edge" of a piece of work is, common to the whole edge, mm. */
export function edgeSd(thicknessMm: number, mmPerPx: number): number {
  return Math.hypot(COLOUR_EDGE_SD_PX * mmPerPx, RIM_SD_SHARE * thicknessMm);
}

/**
 * How far the true edge may lie towards where it would be if no shadow were table: taking the whole shadow for yarn
 * would be an error of three standard deviations.
 */
export const SHADOW_SD_SHARE = 1 / 3;
