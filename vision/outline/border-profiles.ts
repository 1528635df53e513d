/** Reads the three colour planes at a place; false beyond the picture's border. */
export type ColourReader = (x: number, y: number, colour: Float32Array) => boolean;

/** A place on the border with its unit normal pointing out of the container. */
export interface BorderSample {
  readonly x: number;
  readonly y: number;
  readonly normalX: number;
  readonly normalY: number;
}

/** Colour across the border at each sample, from inside to outside. */
export interface BorderProfiles {
  readonly count: number;
  /** Taps per profile: tap j lies (j − half) · stepPx along the normal. */
  readonly taps: number;
  readonly half: number;
  readonly stepPx: number;
  /** count × taps × 3. */
  readonly colour: Float32Array;
  /** 1 where the whole profile lies in the picture. */
  readonly inPicture: Uint8Array;
}

export function readProfiles(
  samples: readonly BorderSample[],
  half: number,
  stepPx: number,
  read: ColourReader,
): BorderProfiles {
  const taps = 2 * half + 1;
  const colour = new Float32Array(samples.length * taps * 3);
  const inPicture = new Uint8Array(samples.length).fill(1);
  const pixel = new Float32Array(3);
  samples.forEach((sample, i) => {
    for (let j = 0; j < taps; j++) {
      const offset = (j - half) * stepPx;
      if (!read(sample.x + offset * sample.normalX, sample.y + offset * sample.normalY, pixel)) inPicture[i] = 0;
      colour.set(pixel, (i * taps + j) * 3);
    }
  });
  return { count: samples.length, taps, half, stepPx, colour, inPicture };
}

const WINDOW = 3;
/** Grey levels of noise that any picture has. */
const NOISE = 4;
const CERTAIN_CONTRAST = 3;
/** Taps at the outer end that are taken for background, and samples along the border that share them. */
const GROUND_TAPS = 6;
const GROUND_REACH = 6;
/** Squared distance from the background, in its own spread, that counts as half-way to "something else". */
const NOT_GROUND = 6;
const GROUND_CAP = 2 * NOT_GROUND;

const EDGE_WEIGHT = 1;
const GROUND_WEIGHT = 0.2;

/**
 * Cost of the border running just outside tap j−1, for every sample and every allowed tap: low where the colour changes
 * and where all beyond looks like the background at the outer end of the profiles.
 * @param reach  how far from the middle the border may move, taps; profiles must be `reach + GROUND_TAPS` long each way
 * @returns count × (2 reach + 1) costs, about 0 (sure) to 1.6 (nothing there)
 */
export function borderCosts(profiles: BorderProfiles, reach: number): Float32Array {
  const { count, taps, half } = profiles;
  const places = 2 * reach + 1;
  const costs = new Float32Array(count * places);
  const ground = groundColours(profiles);
  const score = new Float32Array(taps + 1);
  for (let i = 0; i < count; i++) {
    // score[j]: evidence that taps before j are not background, all from j on are
    score[0] = 0;
    for (let j = 0; j < taps; j++) score[j + 1] = score[j] + groundDistance(profiles, ground, i, j) - NOT_GROUND;
    let best = -Infinity;
    for (let k = 0; k < places; k++) best = Math.max(best, score[half - reach + k]);
    for (let k = 0; k < places; k++) {
      const j = half - reach + k;
      const edge = Math.min(contrast(profiles, i, j) / CERTAIN_CONTRAST, 1);
      const lost = Math.min((best - score[j]) / (2 * WINDOW * NOT_GROUND), 1);
      costs[i * places + k] = EDGE_WEIGHT * (1 - edge) + GROUND_WEIGHT * lost;
    }
  }
  return costs;
}

/** Tap number where the border lies for place k of `borderCosts`, relative to the sample, in taps. */
export function placeOffset(k: number, reach: number): number {
  return k - reach - 0.5;
}

export const GROUND_MARGIN = GROUND_TAPS;

/** Fisher contrast between the windows on both sides of the step from tap j − 1 to tap j. */
function contrast({ colour, taps }: BorderProfiles, i: number, j: number): number {
  let between = 0;
  let within = 0;
  for (let channel = 0; channel < 3; channel++) {
    let [sumIn, sumOut, squareIn, squareOut] = [0, 0, 0, 0];
    for (let w = 0; w < WINDOW; w++) {
      const inner = colour[(i * taps + j - 1 - w) * 3 + channel];
      const outer = colour[(i * taps + j + w) * 3 + channel];
      sumIn += inner;
      sumOut += outer;
      squareIn += inner * inner;
      squareOut += outer * outer;
    }
    const difference = (sumIn - sumOut) / WINDOW;
    between += difference * difference;
    within += (squareIn + squareOut - (sumIn * sumIn + sumOut * sumOut) / WINDOW) / WINDOW;
  }
  return Math.sqrt(between / (within + NOISE * NOISE));
}

interface GroundColours {
  readonly mean: Float32Array;
  readonly spread: Float32Array;
}

function groundColours({ count, taps, colour }: BorderProfiles): GroundColours {
  const mean = new Float32Array(count * 3);
  const spread = new Float32Array(count * 3);
  for (let i = 0; i < count; i++) {
    for (let channel = 0; channel < 3; channel++) {
      let [sum, square, n] = [0, 0, 0];
      for (let near = Math.max(i - GROUND_REACH, 0); near <= Math.min(i + GROUND_REACH, count - 1); near++) {
        for (let j = taps - GROUND_TAPS; j < taps; j++) {
          const value = colour[(near * taps + j) * 3 + channel];
          sum += value;
          square += value * value;
          n++;
        }
      }
      mean[i * 3 + channel] = sum / n;
      spread[i * 3 + channel] = Math.max(square / n - (sum / n) ** 2, 0) + NOISE * NOISE;
    }
  }
  return { mean, spread };
}

function groundDistance({ colour, taps }: BorderProfiles, ground: GroundColours, i: number, j: number): number {
  let distance = 0;
  for (let channel = 0; channel < 3; channel++) {
    const difference = colour[(i * taps + j) * 3 + channel] - ground.mean[i * 3 + channel];
    distance += (difference * difference) / ground.spread[i * 3 + channel];
  }
  return Math.min(distance, GROUND_CAP);
}
