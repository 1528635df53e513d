// Written by `npm run calibrate`; what was fitted, to what and how: vision/calibration/README.md.

/** How far off sizes are because the outline is; vision/calibration/fit-outline-error.ts */
export const OUTLINE_ERROR = {
  fitSdFactor: 1.64,
  perGap: 4.37,
  least: 0.000807,
  perUnsupported: 14.1,
} as const;
