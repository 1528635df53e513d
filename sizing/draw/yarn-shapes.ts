/**
 * How the yarn of one stitch runs, in a frame of the stitch: `along` the work in widths of a stitch (0 in its middle),
 * `up` from its foot (0) to its top (1), `out` of the fabric in yarn diameters. Drawn by hand from crocheted pieces: what is
 * seen from outside is there, what hides inside is left out. Chains, heads and cord have `up` in yarn diameters, too: they
 * lie along the work and have no foot.
 */
export type ShapePoint = readonly [along: number, up: number, out: number];

export const YARN_SHAPE_NAMES = ['chain', 'head', 'sc', 'hdc', 'dc', 'tr', 'slip', 'cord', 'ring'] as const;
export type YarnShape = (typeof YARN_SHAPE_NAMES)[number];

/** Two legs that meet at the foot and part upwards. */
const LEG: readonly ShapePoint[] = [
  [0.03, -0.16, -0.5],
  [0.07, 0.0, 0.3],
  [0.15, 0.3, 0.62],
  [0.28, 0.66, 0.6],
  [0.36, 0.94, 0.2],
  [0.34, 1.08, -0.45],
];

/** A loop of chain seen from its smooth side: half of a V whose point lies in the loop before. */
const CHAIN_LEG: readonly ShapePoint[] = [
  [-0.66, 0.02, -0.45],
  [-0.42, 0.26, 0.1],
  [-0.05, 0.58, 0.36],
  [0.3, 0.66, 0.26],
  [0.55, 0.4, -0.05],
  [0.66, 0.08, -0.42],
];

const CHAIN_BACK: readonly ShapePoint[] = [
  [-0.55, 0.12, -0.55],
  [-0.2, -0.12, -0.8],
  [0.2, -0.1, -0.8],
  [0.55, 0.12, -0.55],
];

/** Front and back strand of a tall post, crossing once. */
const POST_FRONT: readonly ShapePoint[] = [
  [-0.1, -0.1, -0.5],
  [-0.2, 0.06, 0.35],
  [-0.17, 0.26, 0.55],
  [-0.03, 0.48, 0.5],
  [0.12, 0.7, 0.45],
  [0.2, 0.92, 0.25],
  [0.2, 1.03, -0.4],
];
const POST_BACK: readonly ShapePoint[] = [
  [0.1, -0.1, -0.5],
  [0.2, 0.06, 0.3],
  [0.17, 0.26, 0.3],
  [0.03, 0.48, -0.25],
  [-0.12, 0.7, 0.15],
  [-0.2, 0.92, 0.3],
  [-0.2, 1.03, -0.4],
];

/** Yarn laid round a post at height `up`. */
function wrap(up: number): ShapePoint[] {
  return [
    [-0.3, up - 0.07, -0.3],
    [-0.28, up - 0.05, 0.55],
    [0.02, up, 1.18],
    [0.28, up + 0.06, 0.6],
    [0.3, up + 0.08, -0.3],
  ];
}

const CORD_LEG: readonly ShapePoint[] = [
  [-1.15, 0.05, 0.35],
  [-0.7, 0.5, 0.75],
  [-0.05, 0.9, 0.7],
  [0.55, 0.98, 0.3],
  [1.0, 0.6, 0.1],
  [1.2, 0.1, 0.3],
];

const RING: readonly ShapePoint[] = Array.from({ length: 13 }, (_, k): ShapePoint => {
  const angle = (k / 12) * 2 * Math.PI;
  return [Math.cos(angle), Math.sin(angle), 0];
});

/** The runs of yarn of each shape, as points that a smooth curve goes through. */
export const YARN_SHAPES: Readonly<Record<YarnShape, readonly (readonly ShapePoint[])[]>> = {
  chain: [CHAIN_LEG, mirrored(CHAIN_LEG), CHAIN_BACK],
  head: [CHAIN_LEG, mirrored(CHAIN_LEG)],
  sc: [LEG, swapped(LEG)],
  hdc: [
    LEG,
    swapped(LEG),
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
