import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf, resample, signedArea } from '../geometry/polygon.ts';
import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import { shrinkPhotoTo } from '../picture/picture.ts';
import type { OutlinePoint, OutlineSighting } from '../sighting.ts';
import type { BorderSample } from './border-profiles.ts';
import { type LocatedPoint, withLocalScatter } from './doubtful-points.ts';
import { inOrder } from './in-order.ts';
import { locateEdges } from './locate-edges.ts';
import { snapToBorder } from './snap-to-border.ts';

export interface SnapOptions {
  /** How far a hand-placed outline may be from the container's edge, px. Default: a fiftieth of its long side. */
  readonly reachPx?: number;
  /** The card's corners when it lies over the outline: what it hides is left out. */
  readonly cardInFrontPx?: readonly ImagePoint[];
}

const REACH_SHARE = 0.02;
const SAMPLES_PER_SIDE = 200;
const LEAST_SPACING_PX = 4;
const LEAST_CLARITY = 0.25;
const LAST_REACH_PX = 4;
const BORDER_PX = 3;
/** Measured on found outlines: see refine-with-model.ts. */
const ALIKE_PX_PER_SPACING = 6.5;

/**
 * Moves an outline placed by hand to the nearest clear edge of the picture, to a fraction of a pixel. Pieces with no
 * clear edge within reach stay where the hand put them, with the reach as uncertainty.
 * @param polygonPx  closed, photo frame, either sense of rotation, first point not repeated
 * @throws RangeError for fewer than three points
 */
export function snapOutline(
  cv: Cv,
  photo: Photo,
  polygonPx: readonly ImagePoint[],
  options: SnapOptions = {},
): OutlineSighting {
  if (polygonPx.length < 3) throw new RangeError(`An outline needs three points, got ${polygonPx.length}.`);
  const size = longSideOf(polygonPx);
  const reachPx = options.reachPx ?? REACH_SHARE * size;
  const spacingPx = Math.max(LEAST_SPACING_PX, size / SAMPLES_PER_SIDE);
  const hiddenPx = options.cardInFrontPx ? [options.cardInFrontPx] : [];
  const samples = samplesOf(polygonPx, spacingPx).filter(({ x, y }) => !isOutside(photo, x, y));
  const [picture] = shrinkPhotoTo(cv, photo, [Math.max(1, reachPx / 9)]);
  const snapped = snapToBorder(picture, samples, { reachPx, hiddenPx, hiddenMarginPx: spacingPx });
  const moved = samples.map((sample, i) => ({
    ...sample,
    x: sample.x + snapped[i].offsetPx * sample.normalX,
    y: sample.y + snapped[i].offsetPx * sample.normalY,
  }));
  const edges: LocatedPoint[] = [];
  const byHand: OutlinePoint[] = [];
  locateEdges(photo, moved, LAST_REACH_PX).forEach((point, i) => {
    const { x, y, normalX, normalY } = samples[i];
    if (!snapped[i].visible) return;
    if (point && snapped[i].clarity >= LEAST_CLARITY) edges.push({ point, expectedPx: [x, y] });
    else byHand.push({ xPx: x, yPx: y, normalX, normalY, sdPx: reachPx / 2 });
  });
  const cut = samplesOf(polygonPx, spacingPx).some(({ x, y }) => isOutside(photo, x, y));
  return {
    points: inOrder([...withLocalScatter(edges, spacingPx), ...byHand], samples),
    correlationLengthPx: ALIKE_PX_PER_SPACING * spacingPx,
    cutByFrame: cut,
  };
}

function samplesOf(polygonPx: readonly ImagePoint[], spacingPx: number): BorderSample[] {
  const clockwise = signedArea(polygonPx) > 0 ? polygonPx : [...polygonPx].reverse();
  const line = resample([...clockwise, clockwise[0]], spacingPx);
  const last = line.length - 1;
  return line.slice(0, last).map(([x, y], i) => {
    const [bx, by] = line[(i + last - 1) % last];
    const [ax, ay] = line[(i + 1) % last];
    const length = Math.hypot(ax - bx, ay - by) || 1;
    return { x, y, normalX: (ay - by) / length, normalY: -(ax - bx) / length };
  });
}

function isOutside({ widthPx, heightPx }: Photo, x: number, y: number): boolean {
  return x < BORDER_PX || y < BORDER_PX || x > widthPx - 1 - BORDER_PX || y > heightPx - 1 - BORDER_PX;
}
