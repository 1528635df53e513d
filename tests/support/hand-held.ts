import type { SeededRandom } from './seeded-random.ts';
import { seededRandom } from './seeded-random.ts';

/** A photo with the lens that took it: the scene that a hand-held camera turns before. */
export interface StillScene {
  readonly widthPx: number;
  readonly heightPx: number;
  /** RGB, 8 bit, row by row. */
  readonly rgb: Uint8Array;
  readonly focalPx: number;
}

export interface ClipChoice {
  readonly seed: number;
  readonly framesPerSecond: number;
  readonly seconds: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** How it begins: rightly, tilted so that the lower part runs out of the picture, or in too little light. */
  readonly begins: 'right' | 'tilted' | 'dark';
}

/** When a wrong beginning is put right, and how long that takes, s. */
const RIGHT_AFTER_S = 1.6;
const RIGHTING_S = 0.5;
const TILTED_RAD = 0.2;
const DARK_GAIN = 0.05;
/** A hand drifts by this and trembles by that (common practice, no source). */
const DRIFT_RAD = 0.006;
const TREMOR_RAD = 0.0006;
const TREMOR_HZ = 8;
/** Rows of phones' sensors are read one after the other (common practice, no source). */
const READOUT_S = 0.02;
/** Light is gathered over so long, at so many moments. */
const EXPOSURE_S = 0.02;
const MOMENTS = 3;
const NOISE_LEVELS = 1.5;

/**
 * Frames of a camera that turns about its centre before a still scene, each RGB, 8 bit. Turning moves the picture by a
 * homography (Hartley and Zisserman, Multiple View Geometry, 8.4), so that the truth of the still holds for every frame;
 * viewpoint and light stay as they are in it. Drift, tremor, rolling shutter, motion blur, noise. Beyond the still its own
 * mirror image is seen.
 */
export function handHeldFrames(scene: StillScene, choice: ClipChoice): Uint8Array[] {
  const random = seededRandom(choice.seed);
  const path = handPath(random, choice);
  return Array.from({ length: Math.round(choice.seconds * choice.framesPerSecond) }, (_, k) =>
    frameAt(scene, choice, path, k / choice.framesPerSecond, random),
  );
}

interface Aim {
  readonly yawRad: number;
  readonly pitchRad: number;
  readonly rollRad: number;
}

function handPath(random: SeededRandom, { begins }: ClipChoice): (seconds: number) => Aim {
  const wave = (amplitude: number, hertz: number) => {
    const [phase, speed] = [random.uniform(0, 2 * Math.PI), hertz * random.uniform(0.8, 1.2)];
    return (t: number) => amplitude * Math.sin(2 * Math.PI * speed * t + phase);
  };
  const turns = [0, 1, 2].map(() => [wave(DRIFT_RAD, 0.25), wave(DRIFT_RAD / 3, 0.7), wave(TREMOR_RAD, TREMOR_HZ)]);
  const turn = (axis: number, t: number) => turns[axis].reduce((sum, each) => sum + each(t), 0);
  return (t) => ({
    yawRad: turn(0, t),
    pitchRad: turn(1, t) + (begins === 'tilted' ? TILTED_RAD * wrongness(t) : 0),
    rollRad: turn(2, t) / 2,
  });
}

/** 1 before it is put right, 0 after. */
function wrongness(seconds: number): number {
  return Math.min(Math.max((RIGHT_AFTER_S + RIGHTING_S - seconds) / RIGHTING_S, 0), 1);
}

function frameAt(
  scene: StillScene,
  { widthPx, heightPx, begins }: ClipChoice,
  path: (seconds: number) => Aim,
  seconds: number,
  random: SeededRandom,
): Uint8Array {
  const frame = new Uint8Array(3 * widthPx * heightPx);
  const { focalPx } = scene;
  const shrink = Math.max(scene.widthPx / widthPx, scene.heightPx / heightPx);
  const gain = (begins === 'dark' ? 1 - (1 - DARK_GAIN) * wrongness(seconds) : 1) / MOMENTS;
  const [cx, cy] = [(scene.widthPx - 1) / 2, (scene.heightPx - 1) / 2];
  const light = new Float64Array(3 * widthPx);
  for (let row = 0; row < heightPx; row++) {
    light.fill(0);
    const y = (row - (heightPx - 1) / 2) * shrink;
    for (let moment = 0; moment < MOMENTS; moment++) {
      const at = seconds + (row / heightPx) * READOUT_S + (moment / MOMENTS) * EXPOSURE_S;
      const [a, b, c, d, e, f, g, h, i] = rotationOf(path(at));
      for (let column = 0; column < widthPx; column++) {
        const x = (column - (widthPx - 1) / 2) * shrink;
        const z = (g * x + h * y) / focalPx + i;
        addPixel(
          scene,
          cx + (a * x + b * y + c * focalPx) / z,
          cy + (d * x + e * y + f * focalPx) / z,
          light,
          3 * column,
        );
      }
    }
    for (let k = 0; k < 3 * widthPx; k++) {
      const noise = NOISE_LEVELS * 2 * (random.uniform() + random.uniform() - 1);
      frame[3 * row * widthPx + k] = Math.min(Math.max(Math.round(gain * light[k] + noise), 0), 255);
    }
  }
  return frame;
}

function rotationOf({ yawRad, pitchRad, rollRad }: Aim) {
  const [ca, sa, cb, sb, cc, sc] = [yawRad, pitchRad, rollRad].flatMap((a) => [Math.cos(a), Math.sin(a)]);
  // yaw about y, after pitch about x, after roll about z; a positive pitch looks up
  return [
    ca * cc + sa * sb * sc,
    -ca * sc + sa * sb * cc,
    sa * cb,
    cb * sc,
    cb * cc,
    -sb,
    -sa * cc + ca * sb * sc,
    sa * sc + ca * sb * cc,
    ca * cb,
  ] as const;
}

/** Bilinear, with the mirror image of the picture beyond its border. */
function addPixel({ widthPx, heightPx, rgb }: StillScene, x: number, y: number, light: Float64Array, to: number): void {
  const u = mirrored(x, widthPx);
  const v = mirrored(y, heightPx);
  const left = Math.min(Math.floor(u), widthPx - 2);
  const top = Math.min(Math.floor(v), heightPx - 2);
  const fx = u - left;
  const fy = v - top;
  const at = 3 * (top * widthPx + left);
  const below = at + 3 * widthPx;
  for (let k = 0; k < 3; k++) {
    const upper = rgb[at + k] + fx * (rgb[at + k + 3] - rgb[at + k]);
    const lower = rgb[below + k] + fx * (rgb[below + k + 3] - rgb[below + k]);
    light[to + k] += upper + fy * (lower - upper);
  }
}

function mirrored(at: number, size: number): number {
  const last = size - 1;
  const folded = Math.abs(at) % (2 * last);
  return folded > last ? 2 * last - folded : folded;
}
