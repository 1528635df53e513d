import type { Cv } from '../opencv/cv.ts';
import type { Photo } from '../picture/photo.ts';
import { photoFromWorking, type WorkingImage, workingImage } from '../picture/working-image.ts';
import { borderEvidence } from './card-evidence.ts';
import { type EdgeField, edgeField } from './edge-field.ts';
import type { FindCardOptions } from './find-card.ts';
import { joinCollinear } from './join-collinear.ts';
import { lineSegments } from './line-segments.ts';
import { cutOffCandidates } from './quad-candidates.ts';
import { doubleArea, lensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import { selectSegments } from './select-segments.ts';
import { sideSupport } from './side-support.ts';

/** Both corners within the picture are clearly rounded, and the three sides well seen as far as the frame. */
const MIN_ROUNDNESS = 0.45;
const MIN_SUPPORT = 0.95;
const MIN_CONTRAST = 12;

/** True when a card runs out of the picture: one side with its two rounded corners is seen, the opposite one is not. */
export function isCardCutOff(cv: Cv, photo: Photo, { focalPrior, reference }: FindCardOptions): boolean {
  const image = workingImage(cv, photo);
  const field = edgeField(image);
  const lens = lensGuess(focalPrior, image.widthPx, image.heightPx, 1 / image.photoPerWorkingPx[0]);
  const segments = joinCollinear(selectSegments(lineSegments(field), image.widthPx, image.heightPx));
  const quads = cutOffCandidates(segments, image.widthPx, image.heightPx, lens, reference);
  return quads.some((quad) => {
    if (!visibleSidesSupported(field, quad)) return false;
    // the border's evidence wants corners clockwise; the two within stay together
    const turned = doubleArea(quad) < 0;
    const clockwise = turned ? mirrored(quad) : quad;
    const view = viewAsRectangle(quad, lens, reference, 0.05);
    if (!view) return false;
    const { corners, contrast } = borderEvidence(photo, toPhoto(image, clockwise), view.longSide, reference);
    return Math.min(corners[0], corners[1]) > MIN_ROUNDNESS && contrast[0] > MIN_CONTRAST;
  });
}

/** Corner 0 and 1 change places, and so do 3 and 2: the sense of rotation is reversed, side 0 stays side 0. */
function mirrored(q: Quad): Quad {
  return Float64Array.of(q[2], q[3], q[0], q[1], q[6], q[7], q[4], q[5]);
}

function visibleSidesSupported(field: EdgeField, q: Quad): boolean {
  if (sideSupport(field, q[0], q[1], q[2], q[3], 20, 1) < MIN_SUPPORT) return false;
  for (const [near, far] of [
    [0, 6],
    [2, 4],
  ]) {
    const share = shareWithin(q[near], q[near + 1], q[far], q[far + 1], field.widthPx, field.heightPx);
    const x = q[near] + share * (q[far] - q[near]);
    const y = q[near + 1] + share * (q[far + 1] - q[near + 1]);
    if (sideSupport(field, q[near], q[near + 1], x, y, 16, 1) < MIN_SUPPORT) return false;
  }
  return true;
}

/** Share of the way from (ax, ay), within the frame, to (bx, by) that is within it too. */
function shareWithin(ax: number, ay: number, bx: number, by: number, width: number, height: number): number {
  const limit = (a: number, b: number, size: number): number =>
    b < 2 ? (a - 2) / (a - b) : b > size - 3 ? (size - 3 - a) / (b - a) : 1;
  return Math.max(0, Math.min(1, limit(ax, bx, width), limit(ay, by, height)));
}

function toPhoto(image: WorkingImage, quad: Quad): Quad {
  const full = new Float64Array(8);
  for (let k = 0; k < 8; k += 2) full.set(photoFromWorking(image, quad[k], quad[k + 1]), k);
  return full;
}
