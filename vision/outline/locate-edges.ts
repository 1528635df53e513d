import type { Photo } from '../picture/photo.ts';
import type { OutlinePoint } from '../sighting.ts';
import type { BorderSample } from './border-profiles.ts';

/** Photo values to linear light; the tone curve of phones is close to a power of 2.2. */
const LINEAR = Float32Array.from({ length: 256 }, (_, v) => (v / 255) ** 2.2);
/** Lines read beside each sample, along the border, and their distance in px. */
const LINES = 5;
const LINE_STEP_PX = 1.2;
const STEP_PX = 0.5;
/** Derivative filter: Gaussian of this sd, px. */
const BLUR_PX = 0.9;
/** Share of the strongest peak that another peak may have without making the place doubtful. */
const RIVAL_SHARE = 0.6;
/** What even a clear edge may be off: where the eye or the lens puts it. Checked in the finding report. */
const LEAST_SD_PX = 0.35;

/**
 * Sub-pixel edges near expected places: the steepest change of linear light across the border, all channels together.
 * @returns one point per sample, or null where no edge stands out or two do
 */
export function locateEdges(photo: Photo, samples: readonly BorderSample[], reachPx: number): (OutlinePoint | null)[] {
  const half = Math.ceil(reachPx / STEP_PX);
  const margin = Math.ceil((2.5 * BLUR_PX) / STEP_PX);
  const taps = 2 * (half + margin) + 1;
  const profile = new Float32Array(3 * taps);
  const steepness = new Float32Array(2 * half + 1);
  const kernel = derivativeKernel(margin);
  return samples.map((sample) => {
    if (!readProfile(photo, sample, half + margin, taps, profile)) return null;
    differentiate(profile, taps, kernel, steepness);
    return peakOf(sample, steepness, half);
  });
}

function readProfile(photo: Photo, s: BorderSample, reach: number, taps: number, profile: Float32Array): boolean {
  profile.fill(0);
  for (let line = 0; line < LINES; line++) {
    const along = (line - (LINES - 1) / 2) * LINE_STEP_PX;
    for (let j = 0; j < taps; j++) {
      const across = (j - reach) * STEP_PX;
      const x = s.x + across * s.normalX - along * s.normalY;
      const y = s.y + across * s.normalY + along * s.normalX;
      if (!addLinear(photo, x, y, profile, 3 * j)) return false;
    }
  }
  for (let i = 0; i < profile.length; i++) profile[i] /= LINES;
  return true;
}

function addLinear(
  { widthPx, heightPx, rgba }: Photo,
  x: number,
  y: number,
  target: Float32Array,
  at: number,
): boolean {
  const x0 = Math.floor(x);
  const y0 = Math.floor(y);
  if (x0 < 0 || y0 < 0 || x0 + 1 >= widthPx || y0 + 1 >= heightPx) return false;
  const fx = x - x0;
  const fy = y - y0;
  const i = 4 * (y0 * widthPx + x0);
  const j = i + 4 * widthPx;
  for (let c = 0; c < 3; c++) {
    target[at + c] +=
      (1 - fy) * ((1 - fx) * LINEAR[rgba[i + c]] + fx * LINEAR[rgba[i + 4 + c]]) +
      fy * ((1 - fx) * LINEAR[rgba[j + c]] + fx * LINEAR[rgba[j + 4 + c]]);
  }
  return true;
}

function derivativeKernel(reach: number): Float32Array {
  const kernel = new Float32Array(2 * reach + 1);
  let sum = 0;
  for (let k = -reach; k <= reach; k++) {
    const t = (k * STEP_PX) / BLUR_PX;
    kernel[k + reach] = t * Math.exp(-0.5 * t * t);
    sum += Math.abs(kernel[k + reach]);
  }
  return kernel.map((value) => (2 * value) / sum);
}

/** Size of the colour derivative relative to the brightness there: a dark edge counts like a light one. */
function differentiate(profile: Float32Array, taps: number, kernel: Float32Array, steepness: Float32Array): void {
  let brightness = 0;
  for (const value of profile) brightness += value;
  const scale = 1 / (brightness / (3 * taps) + 0.02);
  for (let o = 0; o < steepness.length; o++) {
    let squares = 0;
    for (let c = 0; c < 3; c++) {
      let derivative = 0;
      for (let k = 0; k < kernel.length; k++) derivative += kernel[k] * profile[3 * (o + k) + c];
      squares += derivative * derivative;
    }
    steepness[o] = Math.sqrt(squares) * scale;
  }
}

/** Relative contrast below which an edge drowns in noise. */
const FAINT = 0.03;

function peakOf(sample: BorderSample, steepness: Float32Array, half: number): OutlinePoint | null {
  let best = -1;
  let bestScore = 0;
  for (let o = 1; o + 1 < steepness.length; o++) {
    if (steepness[o] < steepness[o - 1] || steepness[o] < steepness[o + 1]) continue;
    const score = steepness[o] * Math.exp(-0.5 * ((o - half) / (0.7 * half)) ** 2);
    if (score > bestScore) [best, bestScore] = [o, score];
  }
  if (best < 0 || steepness[best] < FAINT) return null;
  let rivalDistancePx = 0;
  for (let o = 1; o + 1 < steepness.length; o++) {
    if (Math.abs(o - best) < 3 || steepness[o] < steepness[o - 1] || steepness[o] < steepness[o + 1]) continue;
    if (steepness[o] > RIVAL_SHARE * steepness[best]) {
      const distance = Math.abs(o - best) * STEP_PX;
      rivalDistancePx = rivalDistancePx === 0 ? distance : Math.min(rivalDistancePx, distance);
    }
  }
  const [a, b, c] = [steepness[best - 1], steepness[best], steepness[best + 1]];
  const vertex = a + c < 2 * b ? (0.5 * (a - c)) / (a - 2 * b + c) : 0;
  const offset = (best + vertex - half) * STEP_PX;
  const noise = 0.4 * (FAINT / steepness[best]);
  return {
    xPx: sample.x + offset * sample.normalX,
    yPx: sample.y + offset * sample.normalY,
    normalX: sample.normalX,
    normalY: sample.normalY,
    // with a second edge close by either may be meant
    sdPx: Math.hypot(LEAST_SD_PX, noise, 0.5 * rivalDistancePx),
  };
}
