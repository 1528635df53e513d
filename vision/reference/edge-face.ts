import { type Camera, projectPoint } from '../geometry/camera-ray.ts';
import { type CardPose, cardCornersMm, cardPoses } from '../geometry/card-pose.ts';
import type { CornersPx } from '../geometry/frames.ts';
import type { Photo } from '../picture/photo.ts';
import type { Quad } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import { LINEAR_LIGHT } from './sample-photo.ts';
import { type SideLine, STEP_PX, sideLine, sideProfiles } from './side-profiles.ts';

/** Where the border of the visible face really is, counted from the strongest edge out of the card. */
export interface FaceShift {
  readonly shiftPx: number;
  readonly sdPx: number;
  /** Blur of the border as the standard deviation of a Gaussian, px. */
  readonly blurPx: number;
}

const ROWS = 96;
/** Samples looked at on either side of what may be face, edge face or ground, px. */
const MARGIN_PX = 4;
/** Blur of a photo's edges as a Gaussian, px: from a sharp pixel grid to what still counts as sharp. */
const BLURS_PX = [0.6, 0.75, 0.9, 1.05, 1.25, 1.5, 1.8, 2.2, 2.7];
const SEARCH_STEP_PX = 0.1;
/** A profile is never explained better than to this share of its step: real edges are not quite steps. */
const MODEL_ERROR_SHARE = 0.015;
const MODEL_ERROR_LEVELS = 0.4;
/** Log-likelihood that a strip must gain over one plain step to count as seen. */
const MIN_GAIN = 3;
/** Without a visible strip the edge is the face's or the back's: standard deviation of that, in strip widths. */
const UNSEEN_STRIP_SD = 0.4;
/** Neighbouring samples share their errors: this many count as one. */
const SAMPLES_PER_INDEPENDENT = 3;
/**
 * Before looking: mostly the strongest edge is the face's own, to a fraction of a px; else it is the strip's outer
 * border or something between.
 */
const FACE_FIRST = 0.75;
const FACE_FIRST_SD_PX = 0.3;
const OVERSHOOT_PX = 0.8;
/** Strips thinner than this cannot be told from the face's own edge. */
const MIN_STRIP_PX = 0.35;

/**
 * A card is 0.76 mm thick: on the sides turned to the camera its edge face shows as a strip 1–4 px wide, and the
 * strongest edge may be either border of it. The strip's width follows from the pose; its place is the one for which
 * face, strip and ground, blurred, explain the side's mean profile best. The spread of the explanations gives the sd:
 * wide when strip and face (or ground) look alike.
 */
export function faceShifts(
  photo: Photo,
  quad: Quad,
  longSide: 0 | 1,
  focalPx: number,
  reference: FlatReference,
): readonly FaceShift[] {
  const camera: Camera = {
    focalPx,
    centreXPx: (photo.widthPx - 1) / 2,
    centreYPx: (photo.heightPx - 1) / 2,
    k1: 0,
  };
  const corners = [0, 1, 2, 3].map((k) => [quad[2 * k], quad[2 * k + 1]] as const) as unknown as CornersPx;
  const lines = [0, 1, 2, 3].map((k) => sideLine(...corners[k], ...corners[(k + 1) % 4]));
  const poses = cardPoses(corners, longSide, reference, camera).filter(
    (pose, _, [best]) => pose.cornerErrorPx < 3 * best.cornerErrorPx + 0.5,
  );
  const profiles = lines.map((line) => meanProfile(photo, line, reference));
  const explained = poses
    .map((pose) => explainAll(profiles, stripWidths(pose, lines, longSide, camera, reference)))
    .sort((a, b) => b.logLikelihood - a.logLikelihood);
  return explained[0]?.shifts ?? lines.map(() => ({ shiftPx: 0, sdPx: 0, blurPx: 1 }));
}

/** How far the hidden face's border shows beyond the visible one's, for each side, px; ≤ 0 where it is hidden. */
function stripWidths(
  pose: CardPose,
  lines: readonly SideLine[],
  longSide: 0 | 1,
  camera: Camera,
  reference: FlatReference,
): number[] {
  const r = pose.rotation;
  const t = pose.translationMm;
  const middle = (k: number, zMm: number): [number, number] => {
    const corners = cardCornersMm(reference, longSide);
    const x = (corners[k][0] + corners[(k + 1) % 4][0]) / 2;
    const y = (corners[k][1] + corners[(k + 1) % 4][1]) / 2;
    return projectPoint(
      camera,
      r[0] * x + r[1] * y + r[2] * zMm + t[0],
      r[3] * x + r[4] * y + r[5] * zMm + t[1],
      r[6] * x + r[7] * y + r[8] * zMm + t[2],
    );
  };
  return lines.map((line, k) => {
    const face = middle(k, 0);
    const back = middle(k, -reference.thicknessMm);
    return (back[0] - face[0]) * line.outX + (back[1] - face[1]) * line.outY;
  });
}

/** Light across the side, median along it: columns × red, green, blue. */
interface MeanProfile {
  readonly offsetsPx: Float64Array;
  readonly light: Float64Array;
  readonly step: number;
}

function meanProfile(photo: Photo, line: SideLine, reference: FlatReference): MeanProfile {
  const skip = Math.max(0.06, (2 * reference.cornerRadiusMm) / reference.widthMm);
  const reachPx = 2 * MARGIN_PX + 1;
  const { rows, columns, centre, light } = sideProfiles(photo, LINEAR_LIGHT, line, ROWS, reachPx, skip);
  const mean = new Float64Array(3 * columns);
  const values = new Float64Array(rows);
  for (let i = 0; i < 3 * columns; i++) {
    for (let r = 0; r < rows; r++) values[r] = light[3 * r * columns + i];
    values.sort();
    mean[i] = 0.5 * (values[(rows - 1) >> 1] + values[rows >> 1]);
  }
  const offsetsPx = Float64Array.from({ length: columns }, (_, c) => (c - centre) * STEP_PX);
  const levels = (k: number): number[] => Array.from({ length: columns }, (_, c) => mean[3 * c + k]);
  const step = Math.max(...[0, 1, 2].map((k) => Math.max(...levels(k)) - Math.min(...levels(k))));
  return { offsetsPx, light: mean, step };
}

function explainAll(
  profiles: readonly MeanProfile[],
  widths: readonly number[],
): { logLikelihood: number; shifts: FaceShift[] } {
  let logLikelihood = 0;
  const shifts: FaceShift[] = [];
  // opposite sides run alike, so they share their blur even when the hand moved
  for (const pair of [
    [0, 2],
    [1, 3],
  ]) {
    const tried = BLURS_PX.map((blurPx) => {
      const both = pair.map((k) => explain(profiles[k], Math.max(0, widths[k]), blurPx));
      return { both, blurPx, logLikelihood: both[0].logLikelihood + both[1].logLikelihood };
    });
    const best = tried.reduce((a, b) => (b.logLikelihood > a.logLikelihood ? b : a));
    logLikelihood += best.logLikelihood;
    pair.forEach((k, i) => {
      shifts[k] = widths[k] > MIN_STRIP_PX ? best.both[i].shift : { shiftPx: 0, sdPx: 0, blurPx: best.blurPx };
    });
  }
  return { logLikelihood, shifts };
}

function explain(profile: MeanProfile, stripPx: number, blurPx: number): { logLikelihood: number; shift: FaceShift } {
  const variance = (MODEL_ERROR_SHARE * profile.step + MODEL_ERROR_LEVELS) ** 2 * SAMPLES_PER_INDEPENDENT;
  const logs: number[] = [];
  const places: number[] = [];
  let withStrip = Number.POSITIVE_INFINITY;
  let withoutStrip = Number.POSITIVE_INFINITY;
  for (let x = -stripPx - OVERSHOOT_PX; x <= OVERSHOOT_PX + 1e-9; x += SEARCH_STEP_PX) {
    const nearFace = Math.exp(-0.5 * (x / FACE_FIRST_SD_PX) ** 2) / (FACE_FIRST_SD_PX * Math.sqrt(2 * Math.PI));
    const prior = FACE_FIRST * nearFace + (1 - FACE_FIRST) / (stripPx + 2 * OVERSHOOT_PX);
    places.push(x);
    const misfit = squaredMisfit(profile, x, stripPx, blurPx) / (2 * variance);
    withStrip = Math.min(withStrip, misfit);
    withoutStrip = Math.min(withoutStrip, squaredMisfit(profile, x, 0, blurPx) / (2 * variance));
    logs.push(Math.log(prior) - misfit);
  }
  const top = Math.max(...logs);
  let sum = 0;
  let first = 0;
  let second = 0;
  for (let k = 0; k < logs.length; k++) {
    const p = Math.exp(logs[k] - top);
    sum += p;
    first += p * places[k];
    second += p * places[k] * places[k];
  }
  const mean = first / sum;
  const spreadPx = Math.sqrt(Math.max(0, second / sum - mean * mean));
  const seen = withoutStrip - withStrip > MIN_GAIN;
  const sdPx = seen ? spreadPx : Math.max(spreadPx, UNSEEN_STRIP_SD * stripPx);
  return { logLikelihood: top + Math.log(sum * SEARCH_STEP_PX), shift: { shiftPx: mean, sdPx, blurPx } };
}

/** Sum over samples and colours of what face, strip and ground, each of one light and blurred, leave unexplained. */
function squaredMisfit(profile: MeanProfile, facePx: number, stripPx: number, blurPx: number): number {
  const { offsetsPx, light } = profile;
  const n = stripPx > MIN_STRIP_PX ? 3 : 2;
  const normal = new Float64Array(9);
  const right = new Float64Array(9);
  let total = 0;
  const basis = [0, 0, 0];
  for (let c = 0; c < offsetsPx.length; c++) {
    const o = offsetsPx[c];
    if (o < facePx - MARGIN_PX || o > facePx + stripPx + MARGIN_PX) continue;
    const inside = normalShare((facePx - o) / blurPx);
    const notGround = normalShare((facePx + stripPx - o) / blurPx);
    basis[0] = n === 3 ? inside : notGround;
    basis[1] = 1 - notGround;
    basis[2] = notGround - inside;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) normal[3 * i + j] += basis[i] * basis[j];
      for (let k = 0; k < 3; k++) right[3 * k + i] += basis[i] * light[3 * c + k];
    }
    for (let k = 0; k < 3; k++) total += light[3 * c + k] ** 2;
  }
  // a little stiffness towards the mean keeps the strip's light finite when it is hardly seen
  if (n === 3) normal[8] += 1e-3;
  for (let k = 0; k < 3; k++) total -= explainedBy(normal, right.subarray(3 * k, 3 * k + 3), n);
  return Math.max(0, total);
}

/** bᵀ A⁻¹ b by Cholesky, lower triangle of A given. */
function explainedBy(a: Float64Array, b: Float64Array, n: number): number {
  const l = new Float64Array(9);
  const z = new Float64Array(3);
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let s = a[3 * i + j];
      for (let k = 0; k < j; k++) s -= l[3 * i + k] * l[3 * j + k];
      if (i === j) l[3 * i + i] = Math.sqrt(Math.max(s, 1e-9));
      else l[3 * i + j] = s / l[3 * j + j];
    }
    let s = b[i];
    for (let k = 0; k < i; k++) s -= l[3 * i + k] * z[k];
    z[i] = s / l[3 * i + i];
    sum += z[i] * z[i];
  }
  return sum;
}

/** Standard normal distribution function. Source: logistic approximation of Bowling et al. (2009), within 0.00014. */
function normalShare(z: number): number {
  return 1 / (1 + Math.exp(-(0.07056 * z * z * z + 1.5976 * z)));
}
