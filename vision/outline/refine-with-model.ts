import { type ContainerFit, fitContainer, type PhotoSight } from '../container/fit-container.ts';
import { projectModelOutline } from '../container/project-model-outline.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf, signedDistance } from '../geometry/polygon.ts';
import type { Arrangement, ProblemCode } from '../measurement.ts';
import type { Photo } from '../picture/photo.ts';
import type { Picture } from '../picture/picture.ts';
import type { OutlinePoint, OutlineSighting } from '../sighting.ts';
import type { BorderSample } from './border-profiles.ts';
import { type WallPoint, withSideDoubt } from './both-sides.ts';
import { withLocalScatter, withoutHolders } from './doubtful-points.ts';
import { inOrder } from './in-order.ts';
import { locateEdges } from './locate-edges.ts';
import type { MaskPreference } from './mask-costs.ts';
import { type InSight, pointsFromMask, withMaskDoubt } from './mask-doubt.ts';
import { SNAP_TAPS, type SnappedSample, snapToBorder } from './snap-to-border.ts';

/** No container fits the outline, and why. */
export interface NoFit {
  readonly reason: ProblemCode;
}

export type SightWithoutOutline = Omit<PhotoSight, 'outline'>;

export interface ModelRefinement {
  readonly fit: ContainerFit;
  /** The fit that began it, to the border of the mask; the fit itself where a hand led. */
  readonly roughFit: ContainerFit;
  readonly outline: OutlineSighting;
  /** The last expected outline and what the picture says about each piece of it. */
  readonly samples: readonly ExpectedSample[];
  readonly snapped: readonly SnappedSample[];
  /** Root mean square distance of the located edges from the expected outline, outliers capped, px. */
  readonly residualPx: number;
}

/** A piece of the fitted outline with the height above the base of what is seen there. */
export interface ExpectedSample extends BorderSample {
  readonly zMm: number;
}

/** Where the outline should be, to a few hundredths of its size. */
export interface RoughOutline {
  /** Closed, photo frame, clockwise. */
  readonly polygonPx: readonly ImagePoint[];
  /** Samples of its visible pieces. */
  readonly points: readonly OutlinePoint[];
}

/** Levels of the photo, finest first. */
export interface Surroundings {
  readonly photo: Photo;
  readonly pictures: readonly Picture[];
  readonly hiddenPx: readonly (readonly ImagePoint[])[];
  readonly hiddenMarginPx: number;
  readonly maskPreference?: MaskPreference;
}

/** Search half-widths in turn, as shares of the outline's long side. */
const REACHES = [0.025, 0.01];
/** Farther than this share of the long side the outline is never looked for beside the rough one. */
const STRAY_SHARE = 0.05;
/** Height above the base, as a share of the container's, where contact shadows matter, and what they cost. */
const CONTACT_ZONE_SHARE = 0.02;
const CONTACT_SD_SHARE = 0.0008;
/** Samples per long side of the outline. */
const SAMPLES_PER_SIDE = 110;
/** Pieces less clear than this are left out. */
const LEAST_CLARITY = 0.25;
const FEWEST_POINTS = 24;
/** Half-width of the last, sub-pixel search: pixels, and share of the outline's long side in large photos. */
const FINEST_REACH_PX = 4;
const FINEST_REACH_SHARE = 0.003;
const FINEST_SPACING_PX = 6;

/**
 * Errors of located edges against renders with known outline: as large as stated, but alike over long stretches; apart
 * from a common offset their autocorrelation falls to 1/e after this many samples.
 */
const ALIKE_PX_PER_SPACING = 6.5;

/**
 * Fits the container to a rough outline, looks for borders near the outline of the fit, and so on with shrinking
 * search width, down to sub-pixel edges in the full photo.
 * @returns why no container fits, when none does
 */
export function refineWithModel(
  surroundings: Surroundings,
  sight: SightWithoutOutline,
  rough: RoughOutline,
  arrangement: Arrangement,
): ModelRefinement | NoFit {
  const longSidePx = longSideOf(rough.polygonPx);
  const spacingPx = longSidePx / SAMPLES_PER_SIDE;
  const fitTo = (points: readonly OutlinePoint[], start?: ContainerFit) =>
    fitContainer(
      {
        ...sight,
        outline: { points, correlationLengthPx: 2 * spacingPx, cutByFrame: false },
      },
      { arrangement, start },
    );
  const snap = (samples: readonly BorderSample[], reachPx: number) => {
    const stepPx = reachPx / SNAP_TAPS;
    const snapped = snapToBorder(pictureFor(surroundings, stepPx), samples, { ...surroundings, reachPx });
    return pointsOf(samples, snapped, stepPx);
  };
  let first = fitTo(rough.points);
  if (!first.ok) first = fitTo(snap(samplesOfPoints(rough.points), REACHES[0] * longSidePx));
  if (!first.ok) return { reason: first.reason };
  const roughFit = first.fit;
  let fit = roughFit;
  for (const share of REACHES) {
    const points = snap(expected(fit, spacingPx, rough, longSidePx), share * longSidePx);
    if (points.length < FEWEST_POINTS) break;
    const next = fitTo(points, fit);
    if (next.ok) fit = next.fit;
  }
  return { ...located(surroundings, fit, rough, longSidePx), roughFit };
}

function samplesOfPoints(points: readonly OutlinePoint[]): BorderSample[] {
  return points.map(({ xPx, yPx, normalX, normalY }) => ({ x: xPx, y: yPx, normalX, normalY }));
}

/** The fit's outline, but for pieces far from the rough one: there the fit bridges a gap, or ran away. */
function expected(fit: ContainerFit, spacingPx: number, rough: RoughOutline, longSidePx: number): ExpectedSample[] {
  const most = STRAY_SHARE * longSidePx;
  return projectModelOutline(fit, { spacingPx })
    .map(({ xPx, yPx, normalX, normalY, zMm }) => ({ x: xPx, y: yPx, normalX, normalY, zMm }))
    .filter(({ x, y }) => Math.abs(signedDistance(rough.polygonPx, [x, y])) < most);
}

/** Borders in a shrunk photo beside the outline of a fit, as an outline to fit again. */
export function snapped(
  surroundings: Surroundings,
  fit: ContainerFit,
  rough: RoughOutline,
  { reachPx, longSidePx }: { readonly reachPx: number; readonly longSidePx: number },
): OutlineSighting {
  const spacingPx = longSidePx / SAMPLES_PER_SIDE;
  const stepPx = reachPx / SNAP_TAPS;
  const samples = expected(fit, spacingPx, rough, longSidePx);
  const places = snapToBorder(pictureFor(surroundings, stepPx), samples, { ...surroundings, reachPx });
  const points = pointsOf(samples, places, stepPx);
  return { points, correlationLengthPx: 2 * spacingPx, cutByFrame: false };
}

function pictureFor({ pictures }: Surroundings, stepPx: number): Picture {
  return pictures.reduce((best, picture) =>
    picture.shrink <= stepPx * 1.3 && picture.shrink > best.shrink ? picture : best,
  );
}

function pointsOf(samples: readonly BorderSample[], snapped: readonly SnappedSample[], stepPx: number): OutlinePoint[] {
  const points: OutlinePoint[] = [];
  samples.forEach(({ x, y, normalX, normalY }, i) => {
    const { offsetPx, clarity } = snapped[i];
    if (clarity < LEAST_CLARITY) return;
    points.push({
      xPx: x + offsetPx * normalX,
      yPx: y + offsetPx * normalY,
      normalX,
      normalY,
      sdPx: (0.7 * stepPx) / Math.sqrt(clarity),
    });
  });
  return points;
}

/** Sub-pixel edges in the full photo beside the outline of a fit. */
export function located(
  surroundings: Surroundings,
  fit: ContainerFit,
  rough: RoughOutline,
  longSidePx: number,
): Omit<ModelRefinement, 'roughFit'> {
  const { photo } = surroundings;
  const reachPx = Math.max(FINEST_REACH_PX, FINEST_REACH_SHARE * longSidePx);
  const spacingPx = Math.max(FINEST_SPACING_PX, longSidePx / 200);
  const samples = expected(fit, spacingPx, rough, longSidePx);
  const snapped = snapToBorder(pictureFor(surroundings, 1), samples, { ...surroundings, reachPx: 2 * reachPx });
  const isClear = ({ clarity, offsetPx }: SnappedSample) =>
    clarity >= LEAST_CLARITY && Math.abs(offsetPx) < 1.5 * reachPx;
  const inSight = (piece: SnappedSample): InSight => (!piece.visible ? 'hidden' : isClear(piece) ? 'edge' : 'no-edge');
  const clear = samples
    .map((sample, i) => ({ sample, start: moved(sample, snapped[i].offsetPx), clear: isClear(snapped[i]) }))
    .filter((piece) => piece.clear);
  const contactSdPx = CONTACT_SD_SHARE * longSidePx;
  const edges: WallPoint[] = [];
  locateEdges(
    photo,
    clear.map((piece) => piece.start),
    FINEST_REACH_PX,
  ).forEach((point, i) => {
    if (!point) return;
    const { sample } = clear[i];
    edges.push({
      point: atContact(point, sample.zMm, fit.state.heightMm, contactSdPx),
      expectedPx: [sample.x, sample.y],
      zMm: sample.zMm,
    });
  });
  const steady = withLocalScatter(withSideDoubt(edges, fit), spacingPx);
  const inFront = fit.arrangement === 'card-on-front' || fit.arrangement === 'card-leaning';
  let points = inFront ? withoutHolders(steady, fit.sight.card.cornersPx) : steady;
  const { maskPreference } = surroundings;
  if (maskPreference) {
    points = [
      ...withMaskDoubt(points, maskPreference),
      ...pointsFromMask(samples, snapped.map(inSight), maskPreference),
    ];
  }
  let squares = 0;
  snapped.forEach((piece) => {
    if (piece.clarity >= LEAST_CLARITY) squares += Math.min(Math.abs(piece.offsetPx), 2 * reachPx) ** 2;
  });
  const count = snapped.filter((piece) => piece.clarity >= LEAST_CLARITY).length;
  return {
    fit,
    outline: {
      points: inOrder(points, samples),
      correlationLengthPx: ALIKE_PX_PER_SPACING * spacingPx,
      cutByFrame: isCut(samples, photo),
    },
    samples,
    snapped,
    residualPx: Math.sqrt(squares / Math.max(count, 1)),
  };
}

function moved(sample: ExpectedSample, offsetPx: number): ExpectedSample {
  return { ...sample, x: sample.x + offsetPx * sample.normalX, y: sample.y + offsetPx * sample.normalY };
}

/** Where the container meets the ground, its own shadow and the rounded edge blur where it ends. */
function atContact(point: OutlinePoint, zMm: number, heightMm: number, contactSdPx: number): OutlinePoint {
  return zMm < CONTACT_ZONE_SHARE * heightMm ? { ...point, sdPx: Math.hypot(point.sdPx, contactSdPx) } : point;
}

/** Pieces of the outline this near the border of the photo are cut by it. */
const BORDER_PX = 3;
const CUT_SHARE = 0.02;

function isCut(samples: readonly BorderSample[], { widthPx, heightPx }: Photo): boolean {
  const outside = samples.filter(
    ({ x, y }) => x < BORDER_PX || y < BORDER_PX || x > widthPx - 1 - BORDER_PX || y > heightPx - 1 - BORDER_PX,
  );
  return outside.length > CUT_SHARE * samples.length;
}
