import { sizesApart } from '../container/container-sizes.ts';
import { UNCERTAIN_RELATIVE_SD } from '../container/finding-error.ts';
import type { ContainerFit } from '../container/fit-container.ts';
import type { Camera } from '../geometry/camera-ray.ts';
import type { CardPose } from '../geometry/card-pose.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { cross, dot, scale, unit, type Vector3 } from '../geometry/linear3.ts';
import { longSideOf, resample, signedDistance } from '../geometry/polygon.ts';
import type { Arrangement, ProblemCode } from '../measurement.ts';
import type { CoarseSighting } from '../network/coarse-sighting.ts';
import type { Cv } from '../opencv/cv.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import { type Picture, shrinkPhotoTo } from '../picture/picture.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { CardSighting, OutlinePoint, OutlineSighting } from '../sighting.ts';
import { type CardView, cardDirection, cardNormal, viewFromCard } from './axis-directions.ts';
import { imageFromView } from './axis-view.ts';
import { classicalRegions } from './classical-regions.ts';
import { wholeOutline } from './half-outline.ts';
import type { MaskPreference } from './mask-costs.ts';
import { chosenShape, type MaskShape, maskShapes } from './mask-shape.ts';
import { judgeOutline, type OutlineEvidence, type OutlineVerdict, outlineEvidence } from './outline-evidence.ts';
import type { ViewRefinement } from './refine-in-view.ts';
import {
  type RoughOutline,
  refineWithModel,
  type SightWithoutOutline,
  type Surroundings,
} from './refine-with-model.ts';
import { FINE_LONG_SIDE, type Region, refinedRegion, WORKING_LONG_SIDE } from './refined-region.ts';

export interface OutlineHints {
  readonly card: CardSighting;
  readonly focalPrior: FocalPrior;
  readonly reference: FlatReference;
  readonly arrangement?: Arrangement;
  /** A point inside the container. */
  readonly tapPx?: ImagePoint;
  readonly coarse?: CoarseSighting;
}

export interface OutlineCandidate {
  readonly arrangement: Arrangement;
  readonly outline: OutlineSighting;
  /** The model fitted while looking, a start for the measurement; absent like the evidence when none fits. */
  readonly fit?: ContainerFit;
  readonly evidence?: OutlineEvidence;
  readonly verdict: OutlineVerdict;
}

/** Arrangements the network finds less likely than this are not tried. */
const LEAST_SCORE = 0.1;

/** Container outlines with the arrangement each was found under, best first; empty when nothing was found. */
export function findOutlines(cv: Cv, photo: Photo, hints: OutlineHints): OutlineCandidate[] {
  const { widthPx, heightPx } = photo;
  const centrePx: ImagePoint = [(widthPx - 1) / 2, (heightPx - 1) / 2];
  const seen = viewFromCard(hints.card, hints.focalPrior, hints.reference, centrePx);
  if (!seen) return [];
  const longSide = Math.max(widthPx, heightPx);
  const [fine, working] = shrinkPhotoTo(cv, photo, [longSide / FINE_LONG_SIDE, longSide / WORKING_LONG_SIDE]);
  const surroundings: Surroundings = {
    photo,
    pictures: [fine, working],
    hiddenPx: [hints.card.cornersPx],
    hiddenMarginPx: 0.006 * longSide,
  };
  const sight: SightWithoutOutline = {
    imageWidthPx: widthPx,
    imageHeightPx: heightPx,
    focalPrior: hints.focalPrior,
    looksCropped: photo.lens.looksCropped,
    reference: hints.reference,
    card: hints.card,
  };
  const place: Place = { seen, fine, working, surroundings, sight };
  const candidates = arrangementsToTry(hints).flatMap((arrangement) => {
    const first = outlined(place, arrangement, hints);
    const { coarse } = hints;
    if (!coarse?.otherBodyMask || (first && first.verdict.relativeSd < SURE_SD)) return first ?? [];
    const second = outlined(place, arrangement, { ...hints, coarse: { ...coarse, bodyMask: coarse.otherBodyMask } });
    const [surer, other] = [first, second].filter((found) => found !== null).sort(surestFirst);
    return surer && other ? withDisagreement(surer, other) : (surer ?? []);
  });
  return candidates.sort((a, b) => likelihood(b, hints) - likelihood(a, hints));
}

/** An outline that leaves more than this in every size open is looked for again by the second opinion. */
const SURE_SD = 0.02;

function surestFirst({ verdict: a }: OutlineCandidate, { verdict: b }: OutlineCandidate): number {
  return Number(a.refusal !== null) - Number(b.refusal !== null) || a.relativeSd - b.relativeSd;
}

/** Half of what the sizes of two outlines differ by is added to the expected error of the surer one. */
function withDisagreement(surer: OutlineCandidate, other: OutlineCandidate): OutlineCandidate {
  if (!surer.fit || !other.fit) return surer;
  const error = Math.hypot(surer.verdict.relativeSd, sizesApart(surer.fit, other.fit) / 2);
  const warnings = new Set(surer.verdict.warnings);
  if (error > UNCERTAIN_RELATIVE_SD) warnings.add('outline-uncertain');
  return { ...surer, verdict: { ...surer.verdict, relativeSd: error, warnings: [...warnings] } };
}

/** What is the same for every outline looked for in a photo. */
interface Place {
  readonly seen: CardView;
  readonly fine: Picture;
  readonly working: Picture;
  readonly surroundings: Surroundings;
  readonly sight: SightWithoutOutline;
}

function outlined(
  { seen, fine, working, surroundings, sight }: Place,
  arrangement: Arrangement,
  hints: OutlineHints,
): OutlineCandidate | null {
  const region = startingRegion(working, seen, arrangement, hints, surroundings.hiddenMarginPx);
  if (!region) return null;
  const around: Surroundings = hints.coarse ? { ...surroundings, maskPreference: preferenceFor(region) } : surroundings;
  const rough = refinedRegion(working, fine, seen.camera, region, around);
  if (!rough) return null;
  const sketch = roughOf(rough, surroundings);
  const refined = refineWithModel(around, sight, sketch, arrangement);
  if ('reason' in refined) return unfitted(sketch, arrangement, refined.reason);
  const { outline, fit } = refined;
  const { photo } = surroundings;
  const evidence = outlineEvidence(refined, photo, hints.card.cornersPx, hints.coarse, hints.tapPx !== undefined);
  return { arrangement, outline, fit, evidence, verdict: judgeOutline(evidence, hints.coarse) };
}

function likelihood({ arrangement, verdict }: OutlineCandidate, { coarse }: OutlineHints): number {
  return verdict.refusal ? 0 : (coarse?.arrangementScores[arrangement] ?? 1) / verdict.relativeSd;
}

/** An outline that no container fits: to show and to correct. */
function unfitted(
  { polygonPx, points }: RoughOutline,
  arrangement: Arrangement,
  reason: ProblemCode,
): OutlineCandidate {
  const outline = { points, correlationLengthPx: longSideOf(polygonPx) / 60, cutByFrame: false };
  return { arrangement, outline, verdict: { relativeSd: 1, refusal: reason, warnings: [] } };
}

/** Masks of the network are good to about this share of the region's long side. */
export const MASK_TOLERANCE_SHARE = 0.008;

function preferenceFor({ mask, shape }: Region): MaskPreference {
  const [left, top, right, bottom] = shape.boxPx;
  return { mask, tolerancePx: MASK_TOLERANCE_SHARE * Math.max(right - left, bottom - top) };
}

function arrangementsToTry({ arrangement, coarse }: OutlineHints): Arrangement[] {
  if (arrangement) return [arrangement];
  if (!coarse) return ['standing', 'lying', 'card-on-front', 'card-leaning'];
  const scored = Object.entries(coarse.arrangementScores) as [Arrangement, number][];
  return scored
    .filter(([, score]) => score >= LEAST_SCORE)
    .sort(([, a], [, b]) => b - a)
    .map(([name]) => name);
}

/** From the coarse sighting where there is one that shows what was tapped, else by colour and edges alone. */
function startingRegion(
  working: Picture,
  seen: CardView,
  arrangement: Arrangement,
  { coarse, card, tapPx }: OutlineHints,
  cardMarginPx: number,
): Region | null {
  const seenShape = coarse && chosenShape(coarse.bodyMask, tapPx);
  if (seenShape) {
    const axis = expectedAxis(seen.camera, seen.poses[0], arrangement, coarse, seenShape);
    return { axis, mask: coarse.bodyMask, shape: seenShape };
  }
  if (coarse && !tapPx) return null;
  const [best] = classicalRegions(working, seen, arrangement, { cardPx: card.cornersPx, cardMarginPx, tapPx });
  const shape = best && maskShapes(best.mask)[0];
  return shape ? { axis: best.axis, mask: best.mask, shape } : null;
}

/**
 * Standing: the card's normal. On the front and leaning: the side of the card that runs along the container, when one
 * does. Else the direction in the card's plane that runs along the seen region.
 */
function expectedAxis(
  camera: Camera,
  pose: CardPose,
  arrangement: Arrangement,
  coarse: CoarseSighting,
  shape: MaskShape,
): Vector3 {
  const normal = cardNormal(pose);
  if (arrangement === 'standing') return normal;
  const [from, to] = seenAxis(coarse, shape);
  const sightPlane = unit(cross(ray(camera, from), ray(camera, to)));
  if (arrangement !== 'lying') {
    const sides = [cardDirection(pose, 0), cardDirection(pose, Math.PI / 2)];
    const [side] = sides.sort((a, b) => Math.abs(dot(a, sightPlane)) - Math.abs(dot(b, sightPlane)));
    if (Math.abs(dot(side, sightPlane)) < Math.sin(ALONG_CARD_RAD)) return pointing(side, from, to);
  }
  return pointing(unit(cross(sightPlane, normal)), from, to);
}

/** Nearer than this to a side of the card, the axis is taken to run along it. */
const ALONG_CARD_RAD = 0.1;
/** A region this much longer than wide shows its axis better than the network does. */
const LONG = 1.25;
/** The axis guess of the network decides between the two directions of a squat region when it is this near to one. */
const NEAR_RAD = 0.5;

/** Two image points on the axis, base side first where the network knows it. */
function seenAxis({ axisPx: { base, top } }: CoarseSighting, shape: MaskShape): readonly [ImagePoint, ImagePoint] {
  const sure = Math.min(base.confidence, top.confidence) > 0.2;
  const [dx, dy] = [top.atPx[0] - base.atPx[0], top.atPx[1] - base.atPx[1]];
  const [ax, ay] = shape.alongPx;
  const along = sure && ax * dx + ay * dy < 0 ? -1 : 1;
  if (shape.spreadPx[0] > LONG * shape.spreadPx[1] || !sure)
    return [offset(shape, [ax, ay], -along), offset(shape, [ax, ay], along)];
  const off = Math.abs(Math.atan2(ax * dy - ay * dx, Math.abs(ax * dx + ay * dy)));
  if (off < NEAR_RAD) return [offset(shape, [ax, ay], -along), offset(shape, [ax, ay], along)];
  const across = -ay * dx + ax * dy < 0 ? -1 : 1;
  if (off > Math.PI / 2 - NEAR_RAD) return [offset(shape, [-ay, ax], -across), offset(shape, [-ay, ax], across)];
  return [base.atPx, top.atPx];
}

function pointing(axis: Vector3, from: ImagePoint, to: ImagePoint): Vector3 {
  return axis[0] * (to[0] - from[0]) + axis[1] * (to[1] - from[1]) < 0 ? scale(axis, -1) : axis;
}

function offset({ centrePx, spreadPx }: MaskShape, [dx, dy]: readonly [number, number], way: number): ImagePoint {
  return [centrePx[0] + way * spreadPx[0] * dx, centrePx[1] + way * spreadPx[0] * dy];
}

function ray({ focalPx, centreXPx, centreYPx }: Camera, [x, y]: ImagePoint): Vector3 {
  return [(x - centreXPx) / focalPx, (y - centreYPx) / focalPx, 1];
}

/** A rough outline in the photo; what the card or the frame hides has no samples. */
function roughOf({ view, half }: ViewRefinement, { photo, hiddenPx, hiddenMarginPx }: Surroundings): RoughOutline {
  const polygonPx = wholeOutline(half)
    .map(([column, row]) => imageFromView(view, column, row))
    .filter((at) => at !== null);
  const size = longSideOf(polygonPx);
  const line = resample([...polygonPx, polygonPx[0]], size / 60);
  const points: OutlinePoint[] = [];
  for (let i = 0; i + 1 < line.length; i++) {
    const [x, y] = line[i];
    const before = line[i > 0 ? i - 1 : line.length - 2];
    const after = line[i + 1];
    const [dx, dy] = [after[0] - before[0], after[1] - before[1]];
    const length = Math.hypot(dx, dy) || 1;
    if (x < 3 || y < 3 || x > photo.widthPx - 4 || y > photo.heightPx - 4) continue;
    if (hiddenPx.some((polygon) => signedDistance(polygon, [x, y]) < hiddenMarginPx)) continue;
    points.push({ xPx: x, yPx: y, normalX: dy / length, normalY: -dx / length, sdPx: 0.003 * size });
  }
  return { polygonPx, points };
}
