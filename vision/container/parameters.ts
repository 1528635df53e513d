/**
 * The unknowns of one photo, as one list of numbers. Rotations are rotation vectors away from the start, so that they
 * stay free of singularities; lengths that cannot be negative are logarithms.
 */
export const LOG_FOCAL = 0;
export const CENTRE_X = 1;
export const CENTRE_Y = 2;
export const RADIAL_K1 = 3;
/** Rotation of the card in the camera frame (3), its translation in mm (3). */
export const CARD_TURN = 4;
export const CARD_SHIFT = 7;
/** Base centre in the card frame, mm (3); turn of the axis about the two perpendicular directions of the start (2). */
export const BASE_CENTRE = 10;
export const AXIS_TURN = 13;
export const LOG_HEIGHT = 15;
export const LOG_BASE_EDGE = 16;
export const LOG_TOP_EDGE = 17;
/** Relative size error of the card, height of its bow in mm. */
export const CARD_SIZE = 18;
export const CARD_BOW = 19;
/** How far the whole outline was found too far out, px; the same for each side of the card (4). */
export const OUTLINE_HALO = 20;
export const SIDE_HALO = 21;
/** A coin or disc has a rim in place of sides: its halo, and its edge's shape as shares of what coin-solid.ts expects. */
export const RIM_HALO = SIDE_HALO;
export const LOG_RIM_ROUNDING = SIDE_HALO + 1;
export const LOG_RIM_SIDE = SIDE_HALO + 2;
/** Wall radius at every knot, mm. */
export const WALL = 25;
