import { evenly, largest } from '../container/finding-error.ts';
import type { ContainerFit } from '../container/fit-container.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf, resample, signedDistance } from '../geometry/polygon.ts';
import type { Arrangement, DoubtfulStretch, ProblemCode } from '../measurement.ts';
import type { CoarseSighting } from '../network/coarse-sighting.ts';
import type { Cv } from '../opencv/cv.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import { shrinkPhotoTo } from '../picture/picture.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { CardSighting, OutlinePoint, OutlineSighting } from '../sighting.ts';
import { doubtfulStretch } from './doubtful-stretch.ts';
import { contourSeen } from './mask-contour.ts';
import { judgeOutline, type OutlineEvidence, type OutlineVerdict, outlineEvidence } from './outline-evidence.ts';
import {
  type ModelRefinement,
  type RoughOutline,
  refineWithModel,
  type SightWithoutOutline,
  type Surroundings,
} from './refine-with-model.ts';

export interface OutlineHints {
  readonly card: CardSighting;
  readonly focalPrior: FocalPrior;
  readonly reference: FlatReference;
  readonly arrangement?: Arrangement;
  /** A point inside the container. */
  readonly tapPx?: ImagePoint;
  readonly coarse: CoarseSighting;
  /** As in PhotoSight. */
  readonly raisedChance?: number;
}

export interface OutlineCandidate {
  readonly arrangement: Arrangement;
  readonly outline: OutlineSighting;
  /** The model fitted while looking, a start for the measurement; absent like the evidence when none fits. */
  readonly fit?: ContainerFit;
  readonly evidence?: OutlineEvidence;
  readonly refined?: ModelRefinement;
  /** Where it is least certain. */
  readonly doubt?: DoubtfulStretch;
  readonly verdict: OutlineVerdict;
}

/** Arrangements the network finds less likely than this are not tried. */
const LEAST_SCORE = 0.1;
/** The pictures in which borders are looked for, long sides in px. */
export const FINE_LONG_SIDE = 2016;
export const WORKING_LONG_SIDE = 1008;

/** Container outlines with the arrangement each was found under, best first; empty when nothing was found. */
export function findOutlines(cv: Cv, photo: Photo, hints: OutlineHints): OutlineCandidate[] {
  const { widthPx, heightPx } = photo;
  const longSide = Math.max(widthPx, heightPx);
  const surroundings: Surroundings = {
    photo,
    pictures: shrinkPhotoTo(cv, photo, [longSide / FINE_LONG_SIDE, longSide / WORKING_LONG_SIDE]),
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
    raisedChance: hints.raisedChance,
  };
  const place: Place = { surroundings, sight };
  const candidates = arrangementsToTry(hints).flatMap((arrangement) => outlined(place, arrangement, hints) ?? []);
  return candidates.sort((a, b) => likelihood(b, hints) - likelihood(a, hints));
}

/** What is the same for every outline looked for in a photo. */
interface Place {
  readonly surroundings: Surroundings;
  readonly sight: SightWithoutOutline;
}

/** The outline that starts from the border of the mask, drawn to the edges by a container that fits. */
function outlined(
  { surroundings, sight }: Place,
  arrangement: Arrangement,
  { coarse, tapPx }: OutlineHints,
): OutlineCandidate | null {
  const contour = contourSeen(coarse.bodyMask, tapPx);
  if (!contour) return null;
  const tolerancePx = MASK_TOLERANCE_SHARE * longSideOf(contour);
  const sketch = roughOf(contour, surroundings, tolerancePx);
  const around: Surroundings = { ...surroundings, maskPreference: { mask: coarse.bodyMask, tolerancePx } };
  const refined = refineWithModel(around, sight, sketch, arrangement);
  if ('reason' in refined) return unfitted(sketch, arrangement, refined.reason);
  const { outline, fit } = refined;
  const evidence = outlineEvidence(refined, surroundings.photo, coarse, tapPx !== undefined);
  const doubt = doubtfulStretch(refined, coarse.bodyMask) ?? undefined;
  return { arrangement, outline, fit, evidence, refined, doubt, verdict: judgeOutline(evidence, coarse) };
}

function likelihood({ arrangement, verdict }: OutlineCandidate, { coarse }: OutlineHints): number {
  return verdict.refusal ? 0 : coarse.arrangementScores[arrangement] / largest(verdict.findingSd);
}

/** An outline that no container fits: to show and to correct. */
function unfitted(
  { polygonPx, points }: RoughOutline,
  arrangement: Arrangement,
  reason: ProblemCode,
): OutlineCandidate {
  const outline = { points, correlationLengthPx: longSideOf(polygonPx) / 60, cutByFrame: false };
  return { arrangement, outline, verdict: { findingSd: evenly(1), refusal: reason, warnings: [] } };
}

/** Masks of the network are good to about this share of the region's long side. */
export const MASK_TOLERANCE_SHARE = 0.008;

function arrangementsToTry({ arrangement, coarse }: OutlineHints): Arrangement[] {
  if (arrangement) return [arrangement];
  const scored = Object.entries(coarse.arrangementScores) as [Arrangement, number][];
  return scored
    .filter(([, score]) => score >= LEAST_SCORE)
    .sort(([, a], [, b]) => b - a)
    .map(([name]) => name);
}

/** A rough outline in the photo; what the card or the frame hides has no samples. */
export function roughOf(
  polygonPx: readonly ImagePoint[],
  { photo, hiddenPx, hiddenMarginPx }: Surroundings,
  sdPx: number,
): RoughOutline {
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
    points.push({ xPx: x, yPx: y, normalX: dy / length, normalY: -dx / length, sdPx });
  }
  return { polygonPx, points };
}
