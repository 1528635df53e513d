// Written by `npm run calibrate`; what was fitted, to what and how: vision/calibration/README.md.

/** How far off sizes are because the outline is; vision/calibration/fit-outline-error.ts */
export const OUTLINE_ERROR = {
  least: 0.002,
  perStray: 76,
  perFaintness: 4.7,
  perFade: 1,
  fitSdFactor: 1.39,
} as const;
