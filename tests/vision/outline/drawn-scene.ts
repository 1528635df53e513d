import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import type { CoarseSighting } from '../../../vision/network/coarse-sighting.ts';
import type { OutlineHints } from '../../../vision/outline/find-outlines.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import type { CardSide, CardSighting } from '../../../vision/sighting.ts';

/** A cylinder standing on a table beside a card, drawn by casting rays; table frame: mm, z up, card centre at the origin. */
export interface DrawnScene {
  readonly photo: Photo;
  readonly card: CardSighting;
  readonly focalPx: number;
  /** The cylinder's exact outline, closed, clockwise as seen. */
  readonly outlinePx: readonly ImagePoint[];
  readonly axisPx: readonly [base: ImagePoint, top: ImagePoint];
}

export const CYLINDER = { xMm: -20, yMm: 85, radiusMm: 34, heightMm: 125 } as const;
const FOCAL_PX = 640;
const EYE = [60, -330, 230] as const;
const LOOK_AT = [-5, 55, 45] as const;

type Point3 = readonly [number, number, number];

/** @param shiftPx  moves the picture sideways, to let the frame cut the cylinder */
export function drawnScene(widthPx = 640, heightPx = 640, shiftPx = 0): DrawnScene {
  const view = cameraLooking(EYE, LOOK_AT, widthPx / 2 - 0.5 + shiftPx, heightPx / 2 - 0.5);
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const sum = [0, 0, 0];
      for (const [dx, dy] of [
        [-0.25, -0.25],
        [0.25, -0.25],
        [-0.25, 0.25],
        [0.25, 0.25],
      ]) {
        const colour = colourAlong(view.ray(x + dx, y + dy));
        for (let c = 0; c < 3; c++) sum[c] += colour[c] / 4;
      }
      rgba.set([...sum.map((value) => Math.round(255 * Math.min(value, 1) ** (1 / 2.2))), 255], 4 * (y * widthPx + x));
    }
  }
  const circle = (zMm: number) =>
    Array.from({ length: 720 }, (_, i): ImagePoint => {
      const angle = (i * Math.PI) / 360;
      const { xMm, yMm, radiusMm } = CYLINDER;
      return view.project([xMm + radiusMm * Math.cos(angle), yMm + radiusMm * Math.sin(angle), zMm]);
    });
  return {
    photo: { widthPx, heightPx, rgba, lens: { focal35Mm: null, looksCropped: false } },
    card: cardSighting(
      [
        [-42.8, 26.99],
        [42.8, 26.99],
        [42.8, -26.99],
        [-42.8, -26.99],
      ].map(([x, y]) => view.project([x, y, 0.76])),
    ),
    focalPx: FOCAL_PX,
    outlinePx: convexHull([...circle(0), ...circle(CYLINDER.heightMm)]),
    axisPx: [
      view.project([CYLINDER.xMm, CYLINDER.yMm, 0]),
      view.project([CYLINDER.xMm, CYLINDER.yMm, CYLINDER.heightMm]),
    ],
  };
}

/** A coarse sighting as a network might give it: the true outline blown up about its middle and blurred over cells. */
export function coarseSightingOf(scene: DrawnScene, blowUp = 1.02): CoarseSighting {
  const pxPerCell = 4;
  const { photo, outlinePx, axisPx } = scene;
  const widthCells = Math.ceil(photo.widthPx / pxPerCell);
  const heightCells = Math.ceil(photo.heightPx / pxPerCell);
  const middle = outlinePx.reduce<[number, number]>(
    (sum, [x, y]) => [sum[0] + x / outlinePx.length, sum[1] + y / outlinePx.length],
    [0, 0],
  );
  const grown = outlinePx.map(
    ([x, y]): ImagePoint => [middle[0] + blowUp * (x - middle[0]), middle[1] + blowUp * (y - middle[1])],
  );
  const probability = Float32Array.from({ length: widthCells * heightCells }, (_, i) => {
    const x = ((i % widthCells) + 0.5) * pxPerCell - 0.5;
    const y = (Math.floor(i / widthCells) + 0.5) * pxPerCell - 0.5;
    return 1 / (1 + Math.exp(signedDistance(grown, [x, y]) / 1.5));
  });
  const mask = {
    widthCells,
    heightCells,
    probability,
    originPx: [1.5, 1.5],
    pxPerCell: [pxPerCell, pxPerCell],
  } as const;
  return {
    bodyMask: mask,
    cardMask: mask,
    cardCornersPx: null,
    axisPx: { base: { atPx: axisPx[0], confidence: 0.9 }, top: { atPx: axisPx[1], confidence: 0.9 } },
    arrangementScores: { standing: 0.97, lying: 0.01, 'card-on-front': 0.01, 'card-leaning': 0.01 },
    containerPresent: 1,
    round: 1,
    cutByFrame: 0,
    cardPresent: 1,
    otherMask: { ...mask, probability: new Float32Array(probability.length) },
    borderMask: mask,
    baseSeen: 1,
    topSeen: 1,
    onSomething: 0,
    turnScores: [1, 0, 0, 0],
  };
}

/** Distance to a convex clockwise polygon's border, negative inside (exact inside and beside its edges). */
export function signedDistance(polygon: readonly ImagePoint[], [x, y]: ImagePoint): number {
  let most = -Infinity;
  polygon.forEach(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length];
    const length = Math.hypot(bx - ax, by - ay);
    if (length > 1e-9) most = Math.max(most, ((by - ay) * (x - ax) - (bx - ax) * (y - ay)) / length);
  });
  return most;
}

function colourAlong([eye, ray]: readonly [Point3, Point3]): Point3 {
  const { xMm, yMm, radiusMm, heightMm } = CYLINDER;
  const [ox, oy] = [eye[0] - xMm, eye[1] - yMm];
  const a = ray[0] ** 2 + ray[1] ** 2;
  const b = ox * ray[0] + oy * ray[1];
  const root = b * b - a * (ox * ox + oy * oy - radiusMm ** 2);
  const lid = (heightMm - eye[2]) / ray[2];
  if (Math.hypot(ox + lid * ray[0], oy + lid * ray[1]) < radiusMm) return [0.5, 0.12, 0.1];
  if (root > 0) {
    const t = (-b - Math.sqrt(root)) / a;
    const z = eye[2] + t * ray[2];
    // a rounder light on one side, and a pale label in the middle
    const shade = 0.6 + (0.3 * (ox + t * ray[0])) / radiusMm;
    if (z > 0 && z < heightMm)
      return z > 40 && z < 85 ? [0.7 * shade, 0.7 * shade, 0.6 * shade] : [0.4 * shade, 0.05, 0.06];
  }
  const table = -eye[2] / ray[2];
  const [x, y] = [eye[0] + table * ray[0], eye[1] + table * ray[1]];
  if (Math.abs(x) < 42.8 && Math.abs(y) < 26.99) return [0.05, 0.15, 0.4];
  const grain = 0.02 * Math.sin(x / 3) * Math.sin(y / 5);
  return [0.3 + grain, 0.27 + grain, 0.22 + grain];
}

function cameraLooking(eye: Point3, at: Point3, centreX: number, centreY: number) {
  const unit = (v: number[]): Point3 => {
    const length = Math.hypot(...v);
    return [v[0] / length, v[1] / length, v[2] / length];
  };
  const cross = (a: Point3, b: Point3) => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const forward = unit([at[0] - eye[0], at[1] - eye[1], at[2] - eye[2]]);
  const right = unit(cross(forward, [0, 0, 1]));
  const down = unit(cross(forward, right));
  const dot = (a: Point3, b: Point3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  return {
    project: (p: Point3): ImagePoint => {
      const d: Point3 = [p[0] - eye[0], p[1] - eye[1], p[2] - eye[2]];
      const z = dot(d, forward);
      return [centreX + (FOCAL_PX * dot(d, right)) / z, centreY + (FOCAL_PX * dot(d, down)) / z];
    },
    ray: (x: number, y: number): readonly [Point3, Point3] => {
      const u = (x - centreX) / FOCAL_PX;
      const v = (y - centreY) / FOCAL_PX;
      const along = (k: number) => forward[k] + u * right[k] + v * down[k];
      return [eye, [along(0), along(1), along(2)]];
    },
  };
}

function cardSighting(corners: readonly ImagePoint[]): CardSighting {
  const cornersPx = corners as unknown as CornersPx;
  const side = (k: number): CardSide => {
    const [a, b] = [corners[k], corners[(k + 1) % 4]];
    const edgePointsPx = Array.from({ length: 12 }, (_, i): ImagePoint => {
      const t = 0.1 + (0.8 * i) / 11;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    });
    return { edgePointsPx, sdPx: 0.2 };
  };
  return { cornersPx, sides: [side(0), side(1), side(2), side(3)], longSide: 0, score: 1 };
}

/** Clockwise as seen (y down). Source: Andrew's monotone chain. */
function convexHull(points: readonly ImagePoint[]): ImagePoint[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly ImagePoint[]) => {
    const hull: ImagePoint[] = [];
    for (const p of list) {
      while (hull.length >= 2) {
        const [a, b] = [hull[hull.length - 2], hull[hull.length - 1]];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        hull.pop();
      }
      hull.push(p);
    }
    return hull.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** What is known about a drawn scene when its outline is looked for. */
export function hintsFor(scene: DrawnScene): OutlineHints {
  return {
    card: scene.card,
    focalPrior: { focalPx: scene.focalPx, relativeSd: 0.02, source: 'exif' },
    reference: ID1_CARD,
    coarse: coarseSightingOf(scene),
  };
}
