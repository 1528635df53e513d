import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { OutlinePoint, OutlineSighting } from '../sighting.ts';

export interface PolygonOutlineOptions {
  readonly imageWidthPx: number;
  readonly imageHeightPx: number;
  /** Standard uncertainty across the outline, px: 0.5 for a traced edge, 1.5–3 for points set by hand. */
  readonly sdPx: number;
  /** Samples are this far apart, px; also the length over which errors are alike. */
  readonly spacingPx: number;
  /** Corners of the card when it is in front of the container: what it hides is left out. */
  readonly cardInFrontPx?: CornersPx;
}

/** The frame hides what lies within this distance of its border, px. */
const BORDER_PX = 2;
/** Near the card's edge the outline is the card's, not the container's. */
const CARD_MARGIN_PX = 4;

/**
 * Outline sighting from a closed polygon around the container (image frame, either sense of rotation, first point not
 * repeated), such as the points a user has placed.
 * @throws RangeError for fewer than three points
 */
export function outlineFromPolygon(polygonPx: readonly ImagePoint[], options: PolygonOutlineOptions): OutlineSighting {
  if (polygonPx.length < 3) throw new RangeError(`An outline needs three points, got ${polygonPx.length}.`);
  const clockwise = signedArea(polygonPx) > 0 ? polygonPx : [...polygonPx].reverse();
  const samples = resample(clockwise, options.spacingPx);
  const points: OutlinePoint[] = [];
  let onBorder = 0;
  for (const { x, y, normalX, normalY } of samples) {
    if (isOnBorder(x, y, options)) {
      onBorder++;
      continue;
    }
    if (options.cardInFrontPx && isInside([x, y], options.cardInFrontPx, CARD_MARGIN_PX)) continue;
    points.push({ xPx: x, yPx: y, normalX, normalY, sdPx: options.sdPx });
  }
  return { points, correlationLengthPx: options.spacingPx, cutByFrame: onBorder > 0 };
}

/** Positive when the polygon runs clockwise as seen (y down). */
function signedArea(polygon: readonly ImagePoint[]): number {
  let sum = 0;
  polygon.forEach(([x, y], i) => {
    const [nx, ny] = polygon[(i + 1) % polygon.length];
    sum += x * ny - nx * y;
  });
  return sum / 2;
}

interface Sample {
  readonly x: number;
  readonly y: number;
  readonly normalX: number;
  readonly normalY: number;
}

/** Points at equal steps along a clockwise polygon; clockwise as seen, the outside is on the left. */
function resample(polygon: readonly ImagePoint[], spacingPx: number): Sample[] {
  const lengths = polygon.map(([x, y], i) => {
    const [nx, ny] = polygon[(i + 1) % polygon.length];
    return Math.hypot(nx - x, ny - y);
  });
  const perimeter = lengths.reduce((a, b) => a + b, 0);
  const count = Math.max(Math.round(perimeter / spacingPx), 3);
  const samples: Sample[] = [];
  let side = 0;
  let passed = 0;
  for (let i = 0; i < count; i++) {
    const target = ((i + 0.5) * perimeter) / count;
    while (passed + lengths[side] < target && side < polygon.length - 1) passed += lengths[side++];
    const [x, y] = polygon[side];
    const [nx, ny] = polygon[(side + 1) % polygon.length];
    const share = (target - passed) / lengths[side];
    samples.push({
      x: x + share * (nx - x),
      y: y + share * (ny - y),
      normalX: (ny - y) / lengths[side],
      normalY: -(nx - x) / lengths[side],
    });
  }
  return samples;
}

function isOnBorder(x: number, y: number, { imageWidthPx, imageHeightPx }: PolygonOutlineOptions): boolean {
  return x < BORDER_PX || y < BORDER_PX || x > imageWidthPx - 1 - BORDER_PX || y > imageHeightPx - 1 - BORDER_PX;
}

/** Whether a point lies inside a convex clockwise quadrilateral, grown by a margin. */
function isInside([x, y]: ImagePoint, corners: CornersPx, marginPx: number): boolean {
  return corners.every(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4];
    const length = Math.hypot(bx - ax, by - ay);
    return ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length > -marginPx;
  });
}
