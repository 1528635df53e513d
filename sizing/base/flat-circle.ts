import type { FlatShape } from '../plan.ts';

/**
 * Increases per round that keep a disc flat: k = 2 pi h / w. Each round is h further out, so its circumference grows
 * by 2 pi h, which is k stitches of width w (derived; a published page uses h = w and gets 6, 13, 19).
 */
export function flatIncreases(roundHeightMm: number, stitchWidthMm: number): number {
  return (2 * Math.PI * roundHeightMm) / stitchWidthMm;
}

/** Stitches a flat round has over those it would need: below 1 it cups, above 1 it ruffles. */
export function flatnessRatio(stitches: number, stitchWidthMm: number, reachMm: number): number {
  return (stitches * stitchWidthMm) / (2 * Math.PI * reachMm);
}

/**
 * What a disc looks like for a flatness ratio. From one maker's published series of 1-10 increases per round, flat at
 * about 7.5: 4 cone, 5 and 6 cupped, 7 and 8 flat, 9 wants to ruffle, 10 ruffles; the limits lie midway in proportion,
 * but for the one above flat: a base that ruffles is harmed, one that cups is not, so nothing above 8 counts as flat.
 */
export function flatShape(ratio: number): FlatShape {
  if (ratio < Math.sqrt(4 * 5) / 7.5) return 'cone';
  if (ratio < Math.sqrt(6 * 7) / 7.5) return 'cupped';
  if (ratio <= FULLEST_FLAT) return 'flat';
  return ratio < Math.sqrt(9 * 10) / 7.5 ? 'ruffle onset' : 'ruffle';
}

/** 8 of 7.5, as far as whole stitches of a small round allow. */
export const FULLEST_FLAT = 1.075;

/** Half the opening angle of the cone a disc makes when it has fewer stitches than flat: asin(ratio) (derived). */
export function coneHalfAngleRad(ratio: number): number {
  return Math.asin(Math.min(1, ratio));
}

/**
 * Width across a disc patted flat. Its rounds would reach `reachMm` from the centre, its rim would make a circle of
 * circumference stitches x width; patted flat both give in equally, so the width is their geometric mean (derived).
 */
export function widthAcrossMm(stitches: number, stitchWidthMm: number, reachMm: number): number {
  return 2 * Math.sqrt((reachMm * stitches * stitchWidthMm) / (2 * Math.PI));
}

/** Shares a total out over `count` places as evenly as whole numbers do: how much each one gets. */
export function spread(total: number, count: number): number[] {
  return Array.from(
    { length: count },
    (_, j) => Math.floor(((j + 1) * total) / count) - Math.floor((j * total) / count),
  );
}
