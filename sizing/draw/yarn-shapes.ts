/**
 * How the yarn of one stitch runs, in a frame of the stitch: `along` the work in widths of a stitch (0 in its middle),
 * `up` from its foot (0) to its top (1), `out` of the fabric in yarn diameters. Drawn by hand from crocheted pieces: what is
 * seen from outside is there, what hides inside is left out. Chains, heads and cord have `up` in yarn diameters, too: they
 * lie along the work and have no foot.
 */
export type ShapePoint = readonly [along: number, up: number, out: number];

export const YARN_SHAPE_NAMES = ['chain', 'head', 'sc', 'hdc', 'dc', 'tr', 'slip', 'catch', 'cord', 'ring'] as const;
export type YarnShape = (typeof YARN_SHAPE_NAMES)[number];

/** Two legs that meet at the foot and part upwards; the foot reaches down between the legs of the stitch below. */
const LEG: readonly ShapePoint[] = [
  [0.05, -0.44, -0.1],
  [0.08, -0.24, 0.4],
  [0.13, 0.08, 0.66],
  [0.22, 0.45, 0.7],
  [0.33, 0.8, 0.42],
  [0.36, 1.02, -0.25],
];

/** What closes the fabric behind the legs. */
function backBar(up: number): ShapePoint[] {
  return [
    [-0.55, up - 0.04, -0.55],
    [-0.2, up, -0.4],
    [0.2, up + 0.03, -0.4],
    [0.55, up - 0.04, -0.55],
  ];
}

/** A loop of chain seen from its smooth side: half of a V whose point lies in the loop before. */
const CHAIN_LEG: readonly ShapePoint[] = [
  [-0.74, -0.1, -0.4],
  [-0.46, 0.12, 0.22],
  [-0.1, 0.55, 0.42],
  [0.26, 0.86, 0.3],
  [0.52, 0.7, 0],
  [0.68, 0.25, -0.4],
];

const CHAIN_BACK: readonly ShapePoint[] = [
  [-0.55, 0.12, -0.55],
  [-0.2, -0.12, -0.75],
  [0.2, -0.1, -0.75],
  [0.55, 0.12, -0.55],
];

/** Front and back strand of a tall post, crossing once. */
const POST_FRONT: readonly ShapePoint[] = [
  [-0.08, -0.2, -0.2],
  [-0.2, -0.02, 0.45],
  [-0.2, 0.24, 0.6],
  [-0.05, 0.48, 0.55],
  [0.14, 0.72, 0.5],
  [0.23, 0.92, 0.25],
  [0.24, 1.02, -0.4],
];
const POST_BACK: readonly ShapePoint[] = [
  [0.08, -0.2, -0.25],
  [0.21, -0.02, 0.38],
  [0.21, 0.24, 0.4],
  [0.06, 0.48, -0.1],
  [-0.13, 0.72, 0.2],
  [-0.23, 0.92, 0.3],
  [-0.24, 1.02, -0.4],
];

/** Yarn laid round a post at height `up`. */
function wrap(up: number): ShapePoint[] {
  return [
    [-0.24, up - 0.09, -0.55],
    [-0.29, up - 0.06, 0.35],
    [-0.02, up, 1.12],
    [0.27, up + 0.06, 0.5],
    [0.24, up + 0.09, -0.55],
  ];
}

/** A loop of chain caught by a single crochet: legs drawn together over it. */
const CATCH_LEG: readonly ShapePoint[] = [
  [0.08, -0.35, -0.7],
  [0.16, -0.3, 0.3],
  [0.14, 0.1, 0.95],
  [0.2, 0.6, 0.85],
  [0.28, 1.0, 0.2],
  [0.24, 1.05, -0.5],
];

const CORD_LEG: readonly ShapePoint[] = [
  [-1.2, -0.1, 0.35],
  [-0.75, 0.3, 0.85],
  [-0.1, 0.85, 0.85],
  [0.55, 1.12, 0.4],
  [1.05, 0.85, 0.05],
  [1.3, 0.3, 0.25],
];

const RING: readonly ShapePoint[] = Array.from({ length: 13 }, (_, k): ShapePoint => {
  const angle = (k / 12) * 2 * Math.PI;
  return [Math.cos(angle), Math.sin(angle), 0];
});

/** The runs of yarn of each shape, as points that a smooth curve goes through. */
export const YARN_SHAPES: Readonly<Record<YarnShape, readonly (readonly ShapePoint[])[]>> = {
  chain: [CHAIN_LEG, mirrored(CHAIN_LEG), CHAIN_BACK],
  head: [CHAIN_LEG, mirrored(CHAIN_LEG)],
  sc: [LEG, swapped(LEG), backBar(0.25), backBar(0.68)],
  hdc: [
    LEG,
    swapped(LEG),
    backBar(0.2),
    backBar(0.5),
    [
      [-0.52, 0.7, -0.1],
      [-0.2, 0.7, 0.8],
      [0.2, 0.76, 0.85],
      [0.52, 0.8, 0.0],
    ],
  ],
  dc: [POST_FRONT, POST_BACK, wrap(0.5)],
  tr: [POST_FRONT, POST_BACK, wrap(0.36), wrap(0.62)],
  slip: [CHAIN_LEG, mirrored(CHAIN_LEG)],
  catch: [CATCH_LEG, swapped(CATCH_LEG)],
  cord: [CORD_LEG, mirrored(CORD_LEG)],
  ring: [RING],
};

function mirrored(points: readonly ShapePoint[]): ShapePoint[] {
  return points.map(([along, up, out]) => [along, -up, out]);
}

/** The other leg; it starts a little behind the first. */
function swapped(points: readonly ShapePoint[]): ShapePoint[] {
  return points.map(([along, up, out]) => [-along, up, out - 0.06]);
}

/** Points on the smooth curve (Catmull-Rom, centripetal enough for such even points) through `points`. */
export function smoothRun(points: readonly ShapePoint[], steps: number): ShapePoint[] {
  const last = points.length - 1;
  return Array.from({ length: steps + 1 }, (_, k) => {
    const at = (k / steps) * last;
    const i = Math.min(last - 1, Math.floor(at));
    const t = at - i;
    const [p0, p1, p2, p3] = [Math.max(0, i - 1), i, i + 1, Math.min(last, i + 2)].map((j) => points[j]);
    const mix = (c: 0 | 1 | 2) =>
      0.5 *
      (2 * p1[c] +
        (p2[c] - p0[c]) * t +
        (2 * p0[c] - 5 * p1[c] + 4 * p2[c] - p3[c]) * t * t +
        (3 * p1[c] - p0[c] - 3 * p2[c] + p3[c]) * t * t * t);
    return [mix(0), mix(1), mix(2)];
  });
}
