import { type SeededRandom, seededRandom } from './seeded-random.ts';

/**
 * Outline and surface of a piece of crochet lying flat, in its own frame: mm, origin in its middle, x and y in the
 * table plane. Its edge is half round: `outside` is the distance to the outline in plan view, where the piece is
 * widest, half a thickness above the table.
 */
export interface FlatShape {
  readonly thicknessMm: number;
  /** Radius of a circle about the origin that holds the whole outline. */
  readonly reachMm: number;
  /** Signed distance to the outline, positive outside; exact enough within a few mm of it. */
  outside(x: number, y: number): number;
  /** Relief of the stitches, 0 in the gaps between them to 1 on their crowns. */
  relief(x: number, y: number): number;
  /** True where the table is seen through the fabric. */
  isHole(x: number, y: number): boolean;
}

export interface DiscSpec {
  readonly kind: 'disc';
  readonly meanDiameterMm: number;
  readonly thicknessMm: number;
  readonly rounds: number;
  readonly stitches: number;
  /** Height of the loops over the valleys between them. */
  readonly scallopMm: number;
  /** Of the oval that the disc was pulled to; step and loops add to it (`outOfRoundnessOf`). */
  readonly outOfRoundness: number;
  readonly hasHoles: boolean;
  readonly seed: number;
}

export interface RectangleSpec {
  readonly kind: 'swatch' | 'tube';
  /** Across: along the rows of a swatch, across the flattened tube. */
  readonly widthMm: number;
  /** Along: across the rows of a swatch, from the closed end to the open edge of a tube. */
  readonly lengthMm: number;
  readonly thicknessMm: number;
  readonly rows: number;
  readonly stitches: number;
  readonly scallopMm: number;
  readonly hasHoles: boolean;
  readonly seed: number;
}

export function flatShape(spec: DiscSpec | RectangleSpec): FlatShape {
  return spec.kind === 'disc' ? disc(spec) : rectangle(spec);
}

const STEPS = 4096;

/**
 * (longest − shortest width) / mean width of the oval that fits the whole outline best: pulled, with the step where rounds
 * begin, which is a third of a round high in small discs, and with uneven loops.
 */
export function outOfRoundnessOf(spec: DiscSpec): number {
  const { outside } = disc(spec);
  const radiusMm = spec.meanDiameterMm / 2;
  let [cosine, sine] = [0, 0];
  for (let i = 0; i < STEPS; i++) {
    const turn = (2 * Math.PI * i) / STEPS;
    const waveMm = -outside(radiusMm * Math.cos(turn), radiusMm * Math.sin(turn));
    cosine += (2 * waveMm * Math.cos(2 * turn)) / STEPS;
    sine += (2 * waveMm * Math.sin(2 * turn)) / STEPS;
  }
  return (2 * Math.hypot(cosine, sine)) / radiusMm;
}

function disc(spec: DiscSpec): FlatShape {
  const random = seededRandom(spec.seed);
  const radiusMm = spec.meanDiameterMm / 2;
  const ovalTurn = random.uniform(0, Math.PI);
  const thirdTurn = random.uniform(0, 2 * Math.PI);
  const third = random.uniform(0, 0.006) * radiusMm;
  // The step where a round begins: the last stitches stand up to a third of a round higher.
  const jogMm = random.uniform(0, 0.3) * (radiusMm / spec.rounds);
  const jogTurn = random.uniform(0, 2 * Math.PI);
  const loops = loopLine(random, spec.stitches, spec.scallopMm);
  const wave = new Float32Array(STEPS);
  for (let i = 0; i < STEPS; i++) {
    const turn = (2 * Math.PI * i) / STEPS;
    const sinceJog = ((turn - jogTurn + 4 * Math.PI) % (2 * Math.PI)) / (2 * Math.PI);
    wave[i] =
      0.5 * spec.outOfRoundness * radiusMm * Math.cos(2 * (turn - ovalTurn)) +
      third * Math.cos(3 * (turn - thirdTurn)) +
      jogMm * Math.max(0, 1 - 6 * sinceJog) +
      loops(i / STEPS);
  }
  centre(wave);
  const roundMm = radiusMm / spec.rounds;
  const twist = random.uniform(0, 1);
  const gapDepth = random.uniform(0.5, 0.9);
  const outside = (x: number, y: number): number => Math.hypot(x, y) - radiusMm - sample(wave, Math.atan2(y, x));
  const cell = (x: number, y: number): { across: number; along: number; round: number } => {
    const r = Math.hypot(x, y);
    const round = Math.min(Math.floor(r / roundMm), spec.rounds - 1);
    const count = Math.max(5, Math.round((spec.stitches * (round + 1)) / spec.rounds));
    const turn = Math.atan2(y, x) / (2 * Math.PI) + 0.5 + 0.37 * twist * round;
    return { across: fraction(turn * count), along: fraction(r / roundMm), round };
  };
  return {
    thicknessMm: spec.thicknessMm,
    reachMm: radiusMm * 1.1 + spec.scallopMm + jogMm + 3,
    outside,
    relief: (x, y) => {
      const { across, along } = cell(x, y);
      return stitchRelief(across, along, gapDepth);
    },
    isHole: (x, y) => {
      if (!spec.hasHoles || outside(x, y) > -0.45 * roundMm) return false;
      const { across, along } = cell(x, y);
      return Math.min(across, 1 - across) < 0.1 && along > 0.2 && along < 0.75;
    },
  };
}

function rectangle(spec: RectangleSpec): FlatShape {
  const random = seededRandom(spec.seed);
  const halfWidth = spec.widthMm / 2;
  const halfLength = spec.lengthMm / 2;
  const folded = spec.kind === 'tube';
  // Folds of a tube are smoother than the edges of a swatch, whose rows end in turning chains.
  const sideScallopMm = spec.scallopMm * (folded ? 0.4 : 1);
  const edges = [
    edgeWave(random, spec.stitches, spec.scallopMm, 0.5),
    edgeWave(random, spec.rows, sideScallopMm, 0.5),
    edgeWave(random, spec.stitches, spec.scallopMm, 0.5),
    edgeWave(random, spec.rows, sideScallopMm, 0.5),
  ];
  const cornerMm = spec.thicknessMm * 0.7;
  // The base folded in half rounds off the closed end.
  const endRoundMm = folded ? random.uniform(0.1, 0.22) * Math.min(spec.widthMm, spec.lengthMm) : cornerMm;
  const gapDepth = random.uniform(0.5, 0.9);
  const outside = (x: number, y: number): number => {
    const right = x - halfWidth - sampleLine(edges[1], (y + halfLength) / spec.lengthMm);
    const left = -x - halfWidth - sampleLine(edges[3], (y + halfLength) / spec.lengthMm);
    const top = y - halfLength - sampleLine(edges[2], (x + halfWidth) / spec.widthMm);
    const bottom = -y - halfLength - sampleLine(edges[0], (x + halfWidth) / spec.widthMm);
    const across = Math.max(left, right);
    const along = Math.max(top, bottom);
    const round = top > bottom ? cornerMm : endRoundMm;
    const cornerX = across + round;
    const cornerY = along + round;
    if (cornerX > 0 && cornerY > 0) return Math.hypot(cornerX, cornerY) - round;
    return Math.max(across, along);
  };
  return {
    thicknessMm: spec.thicknessMm,
    reachMm: Math.hypot(halfWidth, halfLength) + spec.scallopMm + 4,
    outside,
    relief: (x, y) =>
      stitchRelief(
        fraction(((x + halfWidth) / spec.widthMm) * spec.stitches),
        fraction(((y + halfLength) / spec.lengthMm) * spec.rows),
        gapDepth,
      ),
    isHole: (x, y) => {
      if (!spec.hasHoles || outside(x, y) > -4) return false;
      const across = fraction(((x + halfWidth) / spec.widthMm) * spec.stitches);
      const along = fraction(((y + halfLength) / spec.lengthMm) * spec.rows);
      return Math.min(across, 1 - across) < 0.1 && along > 0.2 && along < 0.75;
    },
  };
}

/** Loops standing side by side along a line of length 1: round crowns, sharp valleys, no two quite alike. */
function loopLine(random: SeededRandom, count: number, heightMm: number): (position: number) => number {
  const heights = Array.from({ length: count }, () => heightMm * random.uniform(0.7, 1.3));
  const lifts = Array.from({ length: count }, () => random.normal(0.2 * heightMm));
  return (position) => {
    const place = fraction(position) * count;
    const k = Math.min(Math.floor(place), count - 1);
    return lifts[k] + heights[k] * Math.sqrt(Math.max(0, Math.sin(Math.PI * (place - k))));
  };
}

/** A nearly straight edge: loops on a slow wave; its mean over the length is zero. */
function edgeWave(random: SeededRandom, loops: number, heightMm: number, waveMm: number): Float32Array {
  const line = loopLine(random, loops, heightMm);
  const phase = random.uniform(0, 2 * Math.PI);
  const wave = new Float32Array(STEPS);
  for (let i = 0; i < STEPS; i++) {
    wave[i] = line(i / STEPS) + waveMm * Math.sin(phase + (2 * Math.PI * 1.3 * i) / STEPS);
  }
  centre(wave);
  return wave;
}

function centre(wave: Float32Array): void {
  const mean = wave.reduce((sum, value) => sum + value, 0) / wave.length;
  for (let i = 0; i < wave.length; i++) wave[i] -= mean;
}

function sample(wave: Float32Array, turn: number): number {
  return wave[Math.floor(fraction(turn / (2 * Math.PI)) * STEPS)];
}

function sampleLine(wave: Float32Array, position: number): number {
  return wave[Math.min(STEPS - 1, Math.max(0, Math.floor(position * STEPS)))];
}

function stitchRelief(across: number, along: number, gapDepth: number): number {
  const post = Math.sqrt(Math.sin(Math.PI * across));
  const row = Math.sqrt(Math.sin(Math.PI * along));
  return 1 - gapDepth * (1 - Math.min(post, 0.4 + 0.6 * row));
}

function fraction(value: number): number {
  return value - Math.floor(value);
}
