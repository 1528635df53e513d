import type { ImagePoint } from '../frames.ts';
import type { Arrangement } from '../measurement.ts';
import type { Camera } from '../model/camera-ray.ts';
import type { CardPose } from '../model/card-pose.ts';
import type { ContainerFit } from '../model/fit-container.ts';
import { cross, scale, unit, type Vector3 } from '../model/linear3.ts';
import type { Cv } from '../opencv/cv.ts';
import type { CoarseSighting } from '../outline-model/coarse-sighting.ts';
import type { FocalPrior, Photo } from '../photo.ts';
import type { FlatReference } from '../reference.ts';
import type { CardSighting, OutlinePoint, OutlineSighting } from '../sighting.ts';
import { type CardView, cardNormal, viewFromCard } from './axis-directions.ts';
import { imageFromView } from './axis-view.ts';
import { classicalRegions } from './classical-regions.ts';
import { wholeOutline } from './half-outline.ts';
import { chosenShape, type MaskShape, maskShapes } from './mask-shape.ts';
import { judgeOutline, type OutlineEvidence, type OutlineVerdict, outlineEvidence } from './outline-evidence.ts';
import { type Picture, shrinkPhotoTo } from './picture.ts';
import { longSideOf, resample, signedDistance } from './polygon.ts';
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
  /** The model fitted while looking; a start for the measurement. */
  readonly fit: ContainerFit;
  readonly evidence: OutlineEvidence;
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
  const candidates: OutlineCandidate[] = [];
  for (const arrangement of arrangementsToTry(hints)) {
    const region = startingRegion(working, seen, arrangement, hints, surroundings.hiddenMarginPx);
    const rough = region && refinedRegion(working, fine, seen.camera, region, surroundings);
    if (!rough) continue;
    const refined = refineWithModel(surroundings, sight, roughOf(rough, surroundings), arrangement);
    if (!refined) continue;
    const { outline, fit } = refined;
    const evidence = outlineEvidence(refined, photo, hints.card.cornersPx, hints.coarse);
    candidates.push({ arrangement, outline, fit, evidence, verdict: judgeOutline(evidence, hints.coarse) });
  }
  return candidates;
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

/** From the coarse sighting where there is one, else by colour and edges alone. */
function startingRegion(
  working: Picture,
  seen: CardView,
  arrangement: Arrangement,
  { coarse, card, tapPx }: OutlineHints,
  cardMarginPx: number,
): Region | null {
  if (coarse) {
    const shape = chosenShape(coarse.bodyMask, tapPx);
    if (!shape) return null;
    return { axis: expectedAxis(seen.camera, seen.poses[0], arrangement, coarse, shape), mask: coarse.bodyMask, shape };
  }
  const [best] = classicalRegions(working, seen, arrangement, { cardPx: card.cornersPx, cardMarginPx, tapPx });
  const shape = best && maskShapes(best.mask)[0];
  return shape ? { axis: best.axis, mask: best.mask, shape } : null;
}

/** Standing: the card's normal. Otherwise the direction in the card's plane that runs along the seen axis. */
function expectedAxis(
  camera: Camera,
  pose: CardPose,
  arrangement: Arrangement,
  coarse: CoarseSighting,
  shape: MaskShape,
): Vector3 {
  const normal = cardNormal(pose);
  if (arrangement === 'standing') return normal;
  const { base, top } = coarse.axisPx;
  const sure = Math.min(base.confidence, top.confidence) > 0.3;
  const from = sure ? base.atPx : offset(shape, -1);
  const to = sure ? top.atPx : offset(shape, 1);
  const sightPlane = cross(ray(camera, from), ray(camera, to));
  const axis = unit(cross(sightPlane, normal));
  return axis[0] * (to[0] - from[0]) + axis[1] * (to[1] - from[1]) < 0 ? scale(axis, -1) : axis;
}

function offset({ centrePx, alongPx, spreadPx }: MaskShape, way: 1 | -1): ImagePoint {
  return [centrePx[0] + way * spreadPx[0] * alongPx[0], centrePx[1] + way * spreadPx[0] * alongPx[1]];
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
