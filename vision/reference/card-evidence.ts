import { homography } from '../geometry/card-pose.ts';
import type { Photo } from '../picture/photo.ts';
import { median } from './fit-side.ts';
import type { Quad } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import { DISPLAY_LIGHT, samplePhoto } from './sample-photo.ts';

/** What the pixels along a quad's border say about its being the reference, measured in the full-size photo. */
export interface BorderEvidence {
  /** Median step between just inside and just outside, grey levels, for each side. */
  readonly contrast: readonly [number, number, number, number];
  /** −1..1 per corner: 1 where the border runs along the reference's rounding, −1 where it runs into the sharp corner. */
  readonly corners: readonly [number, number, number, number];
  /** Share of each side along which the picture is burnt out. */
  readonly glare: readonly [number, number, number, number];
  /** 0..1: step across the sides' prolongations beyond the corners, over the step across the sides. A grid runs on. */
  readonly runOn: number;
}

/** Radius looked for on references without rounded corners, as a share of the width: where an ID-1 card has its own. */
const PROBE_RADIUS = 0.037;
/** Half the distance across which a step is measured, as a share of the corner radius. */
const HALF_STEP = 0.17;
/** Angles on the corner's arc, degrees; nearer to the sides arc and side are the same. */
const ARC_FROM = 12;
const ARC_TO = 78;
const ARC_SAMPLES = 12;
/** The last part of a side before the sharp corner, as a share of the radius. */
const SHARP_TAIL = 0.41;
const TAIL_SAMPLES = 6;
/** All three colours at least this bright: a lamp's mirror image. */
const BURNT_OUT_LEVEL = 250;
/** Grey levels that a step must exceed to say something. */
const NOISE_LEVEL = 3;

export function borderEvidence(photo: Photo, quad: Quad, longSide: 0 | 1, reference: FlatReference): BorderEvidence {
  const [widthMm, heightMm] =
    longSide === 0 ? [reference.widthMm, reference.heightMm] : [reference.heightMm, reference.widthMm];
  const toPhoto = homography(
    [
      [0, 0],
      [widthMm, 0],
      [widthMm, heightMm],
      [0, heightMm],
    ],
    [0, 1, 2, 3].map((k) => [quad[2 * k], quad[2 * k + 1]] as const),
  );
  if (!toPhoto) return { contrast: [0, 0, 0, 0], corners: [-1, -1, -1, -1], glare: [0, 0, 0, 0], runOn: 1 };
  const rounded = reference.cornerRadiusMm > 0;
  const radius = rounded ? reference.cornerRadiusMm : PROBE_RADIUS * reference.widthMm;
  const step = new StepMeter(photo, toPhoto);
  const evidence = [0, 1, 2, 3].map((k) => {
    // corner k with the directions of the two sides that leave it
    const x = k === 1 || k === 2 ? widthMm : 0;
    const y = k >= 2 ? heightMm : 0;
    const sx = x === 0 ? 1 : -1;
    const sy = y === 0 ? 1 : -1;
    const arc = stepAcrossArc(step, x, y, sx, sy, radius);
    const sharp = stepIntoCorner(step, x, y, sx, sy, radius);
    const roundness = (arc - sharp) / (arc + sharp + NOISE_LEVEL);
    return rounded ? roundness : -roundness;
  });
  const contrast = [0, 1, 2, 3].map((k) => sideContrast(step, k, widthMm, heightMm, radius));
  return {
    contrast: contrast as unknown as BorderEvidence['contrast'],
    corners: evidence as unknown as BorderEvidence['corners'],
    glare: [0, 1, 2, 3].map((k) => burntOut(step, k, widthMm, heightMm)) as unknown as BorderEvidence['glare'],
    runOn: stepBeyond(step, contrast, widthMm, heightMm, radius),
  };
}

/** Steps in colour between two places on the card's plane, mm. */
class StepMeter {
  readonly #photo: Photo;
  readonly #h: readonly number[];
  readonly #rgb = new Float32Array(6);

  constructor(photo: Photo, toPhoto: readonly number[]) {
    this.#photo = photo;
    this.#h = toPhoto;
  }

  isBurntOut(x: number, y: number): boolean {
    this.#sample(x, y, 0);
    return Math.min(this.#rgb[0], this.#rgb[1], this.#rgb[2]) >= BURNT_OUT_LEVEL;
  }

  addChange(x0: number, y0: number, x1: number, y1: number, sum: [number, number, number]): void {
    this.#sample(x0, y0, 0);
    this.#sample(x1, y1, 3);
    for (let k = 0; k < 3; k++) sum[k] += this.#rgb[k] - this.#rgb[k + 3];
  }

  #sample(x: number, y: number, at: number): void {
    const h = this.#h;
    const w = h[6] * x + h[7] * y + h[8];
    samplePhoto(
      this.#photo,
      DISPLAY_LIGHT,
      (h[0] * x + h[1] * y + h[2]) / w,
      (h[3] * x + h[4] * y + h[5]) / w,
      this.#rgb,
      at,
    );
  }
}

/** Mean colour change across the arc as a vector: texture cancels, a border does not. */
function stepAcrossArc(step: StepMeter, x: number, y: number, sx: number, sy: number, radius: number): number {
  const sum: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < ARC_SAMPLES; k++) {
    const angle = ((ARC_FROM + ((ARC_TO - ARC_FROM) * (k + 0.5)) / ARC_SAMPLES) * Math.PI) / 180;
    const cx = x + sx * radius;
    const cy = y + sy * radius;
    const outX = -sx * Math.cos(angle);
    const outY = -sy * Math.sin(angle);
    const inner = radius * (1 - HALF_STEP);
    const outer = radius * (1 + HALF_STEP);
    step.addChange(cx + inner * outX, cy + inner * outY, cx + outer * outX, cy + outer * outY, sum);
  }
  return Math.hypot(...sum) / (ARC_SAMPLES * Math.sqrt(3));
}

/** Mean colour change across each of the two sides where they would run on into a sharp corner, as a vector again. */
function stepIntoCorner(step: StepMeter, x: number, y: number, sx: number, sy: number, radius: number): number {
  const half = HALF_STEP * radius;
  const along: [number, number, number] = [0, 0, 0];
  const across: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < TAIL_SAMPLES; k++) {
    const t = (SHARP_TAIL * radius * (k + 0.5)) / TAIL_SAMPLES;
    step.addChange(x + sx * t, y + sy * half, x + sx * t, y - sy * half, along);
    step.addChange(x + sx * half, y + sy * t, x - sx * half, y + sy * t, across);
  }
  return (Math.hypot(...along) + Math.hypot(...across)) / (2 * TAIL_SAMPLES * Math.sqrt(3));
}

const CONTRAST_PIECES = 12;
const SAMPLES_PER_PIECE = 6;

/** Grain cancels within a piece; between pieces printed art may change the sign of the step. */
function sideContrast(step: StepMeter, k: number, widthMm: number, heightMm: number, radius: number): number {
  const steps: number[] = [];
  const reach = 0.3 * radius;
  for (let piece = 0; piece < CONTRAST_PIECES; piece++) {
    const change: [number, number, number] = [0, 0, 0];
    for (let i = 0; i < SAMPLES_PER_PIECE; i++) {
      const t = 0.08 + (0.84 * (piece + (i + 0.5) / SAMPLES_PER_PIECE)) / CONTRAST_PIECES;
      if (k % 2 === 0) {
        const y = k === 0 ? 0 : heightMm;
        step.addChange(t * widthMm, y - reach, t * widthMm, y + reach, change);
      } else {
        const x = k === 1 ? widthMm : 0;
        step.addChange(x - reach, t * heightMm, x + reach, t * heightMm, change);
      }
    }
    steps.push(Math.hypot(...change) / (SAMPLES_PER_PIECE * Math.sqrt(3)));
  }
  return median(steps);
}

const BEYOND_FROM = 0.3;
const BEYOND_TO = 2.5;
const BEYOND_SAMPLES = 6;

function stepBeyond(
  step: StepMeter,
  contrast: readonly number[],
  widthMm: number,
  heightMm: number,
  radius: number,
): number {
  const reach = 0.3 * radius;
  let sum = 0;
  for (let k = 0; k < 4; k++) {
    for (const end of [-1, 1]) {
      const change: [number, number, number] = [0, 0, 0];
      for (let i = 0; i < BEYOND_SAMPLES; i++) {
        const t = radius * (BEYOND_FROM + ((BEYOND_TO - BEYOND_FROM) * (i + 0.5)) / BEYOND_SAMPLES);
        if (k % 2 === 0) {
          const x = end < 0 ? -t : widthMm + t;
          const y = k === 0 ? 0 : heightMm;
          step.addChange(x, y - reach, x, y + reach, change);
        } else {
          const y = end < 0 ? -t : heightMm + t;
          const x = k === 1 ? widthMm : 0;
          step.addChange(x - reach, y, x + reach, y, change);
        }
      }
      const beyond = Math.hypot(...change) / (BEYOND_SAMPLES * Math.sqrt(3));
      sum += Math.min(1, beyond / (contrast[k] + NOISE_LEVEL));
    }
  }
  return sum / 8;
}

function burntOut(step: StepMeter, k: number, widthMm: number, heightMm: number): number {
  let count = 0;
  for (let i = 0; i < 24; i++) {
    const t = 0.08 + (0.84 * (i + 0.5)) / 24;
    const x = k % 2 === 0 ? t * widthMm : k === 1 ? widthMm : 0;
    const y = k % 2 === 1 ? t * heightMm : k === 0 ? 0 : heightMm;
    if (step.isBurntOut(x, y)) count++;
  }
  return count / 24;
}
