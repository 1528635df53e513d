/**
 * Coordinate frames, all right-handed, defined once here.
 *
 * - image     px of the upright (EXIF-rotated) full-size photo, x right, y down, (0,0) = centre of the top-left pixel
 * - camera    mm, x right, y down, z forward along the optical axis
 * - card      mm, origin at the centre of the card's visible face, x along its long side, y along its short side,
 *             z out of that face towards the viewer; the hidden face is at z = -thickness
 * - container mm, origin at the centre of the base plane, z up the axis towards the top
 *
 * Transforms are named target-from-source so that the names cancel:
 * `pointCamera = apply(cameraFromCard, pointCard)`.
 */
export type ImagePoint = readonly [xPx: number, yPx: number];
export type CardPoint = readonly [xMm: number, yMm: number, zMm: number];
export type CameraPoint = readonly [xMm: number, yMm: number, zMm: number];

/** Four corners clockwise as seen in the image, starting at the top-left one. */
export type CornersPx = readonly [ImagePoint, ImagePoint, ImagePoint, ImagePoint];
