import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import type { Photo } from '../../../vision/picture/photo.ts';

/** Linear light, 0..1. */
export type Light = readonly [red: number, green: number, blue: number];
/** Light of a surface at a place on it, mm. */
export type Surface = (xMm: number, yMm: number) => Light;

/** A flat rectangle with rounded corners that lies on the table; later ones lie over earlier ones. */
export interface FlatThing {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly cornerRadiusMm: number;
  readonly thicknessMm: number;
  /** Its centre on the table. */
  readonly xMm: number;
  readonly yMm: number;
  readonly yawRad: number;
  /** From the thing's own centre, x along its width. */
  readonly face: Surface;
  readonly edge: Light;
}

export interface TableScene {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  /** Angle between the line of sight and the table's normal. */
  readonly tiltRad: number;
  /** Turn of the camera about its line of sight. */
  readonly rollRad: number;
  readonly distanceMm: number;
  readonly ground: Surface;
  readonly things: readonly FlatThing[];
  /** Standard deviation of the sensor's noise, grey levels. */
  readonly noiseLevels: number;
  readonly seed: number;
  /** Light added where a lamp is mirrored, on things only. */
  readonly glare?: Surface;
}

export interface DrawnTable {
  readonly photo: Photo;
  /** Sharp corners of each thing's upper face, clockwise as seen, in the order of the things. */
  readonly cornersPx: readonly CornersPx[];
}

/** Rows of the drawing per row of the photo; a binomial filter then blurs by half a px, as lenses do. */
const FINE = 2;

/** A photo of flat things on a table, by casting one ray per fine pixel. The camera looks at the table's origin. */
export function drawTable(scene: TableScene): DrawnTable {
  const light = castRays(scene, FINE * scene.widthPx, FINE * scene.heightPx);
  const soft = blurred(light, scene.widthPx, scene.heightPx);
  const random = mulberry(scene.seed);
  const rgba = new Uint8ClampedArray(4 * scene.widthPx * scene.heightPx).fill(255);
  for (let pixel = 0; pixel < scene.widthPx * scene.heightPx; pixel++) {
    for (let k = 0; k < 3; k++) {
      rgba[4 * pixel + k] = 255 * displayed(soft[3 * pixel + k]) + scene.noiseLevels * normal(random);
    }
  }
  const photo: Photo = {
    widthPx: scene.widthPx,
    heightPx: scene.heightPx,
    rgba,
    lens: { focal35Mm: (scene.focalPx * 43.2666) / Math.hypot(scene.widthPx, scene.heightPx), looksCropped: false },
  };
  return { photo, cornersPx: scene.things.map((thing) => cornersOf(thing, scene)) };
}

const BINOMIAL = [1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16];

/** Fine pixels, filtered along the rows, then down the columns, and every second one kept of each. */
function blurred(light: Float32Array, widthPx: number, heightPx: number): Float32Array {
  const across = FINE * widthPx;
  const down = FINE * heightPx;
  const rows = new Float32Array(3 * widthPx * down);
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < widthPx; x++) {
      for (let i = 0; i < 5; i++) {
        const from = 3 * (y * across + Math.max(0, Math.min(across - 1, FINE * x + i - 2)));
        for (let k = 0; k < 3; k++) rows[3 * (y * widthPx + x) + k] += BINOMIAL[i] * light[from + k];
      }
    }
  }
  const both = new Float32Array(3 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let j = 0; j < 5; j++) {
      const from = 3 * widthPx * Math.max(0, Math.min(down - 1, FINE * y + j - 2));
      for (let at = 0; at < 3 * widthPx; at++) both[3 * widthPx * y + at] += BINOMIAL[j] * rows[from + at];
    }
  }
  return both;
}

/** Fine pixel (i, j) lies at photo pixel (i / 2, j / 2): the filter is centred on even fine pixels. */
function castRays(scene: TableScene, across: number, down: number): Float32Array {
  const light = new Float32Array(3 * across * down);
  const { eye, right, down: below, forward, cx, cy } = cameraOf(scene);
  const d = [0, 0, 0];
  for (let j = 0; j < down; j++) {
    for (let i = 0; i < across; i++) {
      const u = (i / FINE - cx) / scene.focalPx;
      const v = (j / FINE - cy) / scene.focalPx;
      for (let k = 0; k < 3; k++) d[k] = u * right[k] + v * below[k] + forward[k];
      const seen = lightAlong(scene, eye, d);
      const at = 3 * (j * across + i);
      light[at] = seen[0];
      light[at + 1] = seen[1];
      light[at + 2] = seen[2];
    }
  }
  return light;
}

function lightAlong(scene: TableScene, eye: readonly number[], d: readonly number[]): Light {
  const xAt = (z: number): number => eye[0] + ((z - eye[2]) / d[2]) * d[0];
  const yAt = (z: number): number => eye[1] + ((z - eye[2]) / d[2]) * d[1];
  for (let k = scene.things.length - 1; k >= 0; k--) {
    const thing = scene.things[k];
    const x = xAt(thing.thicknessMm) - thing.xMm;
    const y = yAt(thing.thicknessMm) - thing.yMm;
    const reach = (thing.widthMm + thing.heightMm) / 2 + 5;
    if (x * x + y * y > reach * reach) continue;
    const [ox, oy] = onThing(thing, x + thing.xMm, y + thing.yMm);
    if (isWithin(thing, ox, oy)) {
      const [r, g, b] = thing.face(ox, oy);
      if (!scene.glare) return [Math.min(1, r), Math.min(1, g), Math.min(1, b)];
      const [gr, gg, gb] = scene.glare(x + thing.xMm, y + thing.yMm);
      return [Math.min(1, r + gr), Math.min(1, g + gg), Math.min(1, b + gb)];
    }
    for (let depth = 1; depth <= 4; depth++) {
      const z = thing.thicknessMm * (1 - depth / 4);
      const [px, py] = onThing(thing, xAt(z), yAt(z));
      if (isWithin(thing, px, py)) return thing.edge;
    }
  }
  return scene.ground(xAt(0), yAt(0));
}

function onThing(thing: FlatThing, x: number, y: number): [number, number] {
  const c = Math.cos(thing.yawRad);
  const s = Math.sin(thing.yawRad);
  return [c * (x - thing.xMm) + s * (y - thing.yMm), -s * (x - thing.xMm) + c * (y - thing.yMm)];
}

function isWithin({ widthMm, heightMm, cornerRadiusMm: r }: FlatThing, x: number, y: number): boolean {
  const dx = Math.abs(x) - widthMm / 2;
  const dy = Math.abs(y) - heightMm / 2;
  if (dx > 0 || dy > 0) return false;
  return dx < -r || dy < -r || Math.hypot(dx + r, dy + r) <= r;
}

interface PlacedCamera {
  readonly eye: readonly number[];
  readonly right: readonly number[];
  readonly down: readonly number[];
  readonly forward: readonly number[];
  readonly cx: number;
  readonly cy: number;
}

function cameraOf(scene: TableScene): PlacedCamera {
  const { tiltRad: tilt, rollRad: roll } = scene;
  const forward = [0, Math.sin(tilt), -Math.cos(tilt)];
  const level = [1, 0, 0];
  const upright = [0, -Math.cos(tilt), -Math.sin(tilt)];
  const c = Math.cos(roll);
  const s = Math.sin(roll);
  return {
    eye: forward.map((f) => -scene.distanceMm * f),
    right: level.map((l, k) => c * l + s * upright[k]),
    down: upright.map((u, k) => c * u - s * level[k]),
    forward,
    cx: (scene.widthPx - 1) / 2,
    cy: (scene.heightPx - 1) / 2,
  };
}

function cornersOf(thing: FlatThing, scene: TableScene): CornersPx {
  const camera = cameraOf(scene);
  const c = Math.cos(thing.yawRad);
  const s = Math.sin(thing.yawRad);
  // y points away from the camera, so this order runs clockwise as seen
  const corners = [
    [-1, 1],
    [1, 1],
    [1, -1],
    [-1, -1],
  ].map(([i, j]): ImagePoint => {
    const x = (i * thing.widthMm) / 2;
    const y = (j * thing.heightMm) / 2;
    const p = [thing.xMm + c * x - s * y, thing.yMm + s * x + c * y, thing.thicknessMm].map(
      (v, k) => v - camera.eye[k],
    );
    const along = (axis: readonly number[]): number => axis.reduce((sum, a, k) => sum + a * p[k], 0);
    const depth = along(camera.forward);
    return [
      camera.cx + (scene.focalPx * along(camera.right)) / depth,
      camera.cy + (scene.focalPx * along(camera.down)) / depth,
    ];
  });
  return corners as unknown as CornersPx;
}

/** sRGB transfer function (IEC 61966-2-1). */
function displayed(v: number): number {
  return v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055;
}

/** Mulberry32: a small seeded generator of numbers in 0..1. */
export function mulberry(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t ^= t + Math.imul(t ^ (t >>> 7), 61 | t);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(random() + 1e-12)) * Math.cos(2 * Math.PI * random());
}
