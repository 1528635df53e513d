/**
 * How to take the photo, drawn by us as data: the page shows it in its own colours, the picture for a customer in
 * daylight's. Things are seen a little from above; a card shows its back, with the stripe and the strip to sign on.
 */
export interface Shape {
  readonly look: Look;
  /** SVG path. */
  readonly d: string;
  /** Of the stroke, where it is not a pen line. */
  readonly width?: number;
  readonly at?: { readonly x: number; readonly y: number; readonly turned?: true; readonly scale?: number };
}

export type Look =
  | 'ground'
  | 'bottle'
  | 'cap'
  | 'card'
  | 'stripe'
  | 'sign'
  | 'skin'
  | 'finger'
  | 'edge'
  | 'sleeve'
  | 'phone'
  | 'ink'
  | 'frame'
  | 'glare'
  | 'spot'
  | 'cross';

export type Scene = readonly Shape[];

export const SCENE_WIDTH = 200;
export const SCENE_HEIGHT = 140;

type Point = readonly [x: number, y: number];
type Quad = readonly [Point, Point, Point, Point];

const TABLE: Scene = [{ look: 'ground', d: 'M6 132 34 92h132l28 40z' }];
const CROSS: Scene = [{ look: 'cross', d: 'M172 12l18 18M190 12l-18 18' }];

/** 46 wide, 104 high; stands on its lower edge. */
function bottle(at: NonNullable<Shape['at']>): Scene {
  return [
    {
      look: 'bottle',
      d: 'M15 12h16v12c0 7 11 9 11 22v48c0 7-8 10-19 10S4 101 4 94V46c0-13 11-15 11-22z',
      at,
    },
    { look: 'cap', d: 'M13 2h20v11H13z', at },
    { look: 'ink', d: 'M4 88c6 8 32 8 38 0M11 52v26', at },
  ];
}

/** A bank card's back. The first two corners are the ends of the long edge that the stripe runs along. */
function card(corners: Quad): Scene {
  const at = (u: number, v: number): Point => {
    const [a, b, c, d] = corners;
    const mix = (k: 0 | 1) => (a[k] * (1 - u) + b[k] * u) * (1 - v) + (d[k] * (1 - u) + c[k] * u) * v;
    return [round(mix(0)), round(mix(1))];
  };
  const patch = (u0: number, v0: number, u1: number, v1: number) =>
    `M${[at(u0, v0), at(u1, v0), at(u1, v1), at(u0, v1)].map((point) => point.join(' ')).join('L')}z`;
  return [
    { look: 'card', d: rounded(corners, 3) },
    { look: 'stripe', d: patch(0, 0.14, 1, 0.36) },
    { look: 'sign', d: patch(0.08, 0.52, 0.66, 0.74) },
  ];
}

interface Grip {
  /** Where the fingertips come out on the left, and where the palm begins on the right. */
  readonly tipsX: number;
  readonly palmX: number;
  /** Of the four fingers, from above. */
  readonly ys: readonly number[];
  readonly thumb: string;
}

const FINGER = 12;

/** A right hand around something: what lies behind the thing, and the thumb before it. */
function hand({ tipsX, palmX, ys, thumb }: Grip): { readonly behind: Scene; readonly before: Scene } {
  const top = ys[0] - FINGER / 2;
  const low = ys[ys.length - 1] + FINGER / 2;
  const fingers = ys.map((y) => `M${palmX + 20} ${y}C${palmX - 2} ${y - 2} ${tipsX + 14} ${y - 2} ${tipsX} ${y + 1}`);
  const palm = `M${palmX} ${top}h18c16 0 22 8 24 18l30-2v36l-32 4c-6 8-12 10-22 ${low - top - 56}H${palmX}z`;
  const cuff = `M${palmX + 52} ${top + 12}h60v44l-60 2z`;
  return {
    behind: [
      ...fingers.map((d): Shape => ({ look: 'edge', d, width: FINGER + 4 })),
      { look: 'edge', d: palm, width: 4 },
      ...fingers.map((d): Shape => ({ look: 'finger', d, width: FINGER })),
      { look: 'skin', d: palm },
      { look: 'sleeve', d: cuff },
    ],
    before: [
      { look: 'edge', d: thumb, width: FINGER + 6 },
      { look: 'finger', d: thumb, width: FINGER + 2 },
    ],
  };
}

const CARD_IN_FRONT = card([
  [102, 101],
  [147, 98],
  [158, 116],
  [108, 120],
]);

const HOLDING = hand({
  tipsX: 64,
  palmX: 106,
  ys: [60, 75, 90, 105],
  thumb: 'M140 104C130 104 120 100 103 92',
});
const WITH_PHONE = hand({
  tipsX: 62,
  palmX: 130,
  ys: [56, 71, 86, 101],
  thumb: 'M160 104C152 92 142 78 128 66',
});

export const SCENES = {
  standing: [...TABLE, ...bottle({ x: 52, y: 14 }), ...CARD_IN_FRONT],
  lying: [
    { look: 'ground', d: 'M18 10h164q10 0 10 10v98q0 10-10 10H18q-10 0-10-10V20q0-10 10-10z' },
    ...bottle({ x: 146, y: 22, turned: true }),
    ...card([
      [66, 84],
      [122, 84],
      [122, 119],
      [66, 119],
    ]),
  ],
  front: [
    ...TABLE,
    ...HOLDING.behind,
    ...bottle({ x: 66, y: 18 }),
    ...card([
      [106, 60],
      [106, 114],
      [72, 114],
      [72, 60],
    ]),
    ...HOLDING.before,
  ],
  leaning: [
    ...TABLE,
    ...bottle({ x: 62, y: 10 }),
    ...card([
      [92, 84],
      [140, 84],
      [145, 118],
      [89, 118],
    ]),
  ],
  /** Seen over the shoulder: all of both on the screen. */
  phone: [
    ...WITH_PHONE.behind,
    { look: 'phone', d: rounded(quad(70, 4, 132, 136), 9) },
    { look: 'ground', d: 'M75 78h52v40H75z' },
    ...bottle({ x: 78, y: 24, scale: 0.72 }),
    ...card([
      [101, 94],
      [120, 93],
      [124, 106],
      [103, 108],
    ]),
    { look: 'ink', d: 'M95 127h12' },
    ...WITH_PHONE.before,
  ],
  cut: [
    { look: 'frame', d: 'M40 34h120v86H40z' },
    ...bottle({ x: 58, y: 12 }),
    ...card([
      [126, 98],
      [170, 95],
      [180, 113],
      [132, 117],
    ]),
    ...CROSS,
  ],
  flat: [...TABLE, ...bottle({ x: 52, y: 14 }), { look: 'card', d: 'M102 117l46-1 3 4-50 1z' }, ...CROSS],
  glare: [
    ...TABLE,
    ...card([
      [58, 76],
      [128, 71],
      [142, 108],
      [62, 114],
    ]),
    { look: 'spot', d: 'M111 78a15 15 0 1 0 30 0a15 15 0 1 0 -30 0' },
    { look: 'glare', d: 'M126 52v-14M144 60l10-12M150 78h16M108 60l-9-12' },
    ...CROSS,
  ],
  hidden: [
    ...TABLE,
    ...bottle({ x: 76, y: 14 }),
    ...card([
      [70, 92],
      [130, 92],
      [134, 126],
      [66, 126],
    ]),
    ...CROSS,
  ],
} as const satisfies Readonly<Record<string, Scene>>;
export type SceneName = keyof typeof SCENES;

function quad(left: number, top: number, right: number, bottom: number): Quad {
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}

/** The outline through these corners, each cut off by a curve. */
function rounded(corners: Quad, radius: number): string {
  const towards = ([x, y]: Point, [toX, toY]: Point) => {
    const share = radius / Math.hypot(toX - x, toY - y);
    return `${round(x + (toX - x) * share)} ${round(y + (toY - y) * share)}`;
  };
  const parts = corners.map((corner, k) => {
    const [before, after] = [corners[(k + 3) % 4], corners[(k + 1) % 4]];
    return `${k === 0 ? 'M' : 'L'}${towards(corner, before)}Q${corner.join(' ')} ${towards(corner, after)}`;
  });
  return `${parts.join('')}z`;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
