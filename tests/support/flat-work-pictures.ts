import { type Camera, castRay, projectPoint, RAY_SIZE } from '../../vision/geometry/camera-ray.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { cross, dot, multiply, multiplyTransposed, scale, unit, type Vector3 } from '../../vision/geometry/linear3.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { type FlatReference, ID1_CARD } from '../../vision/reference/reference.ts';
import type { RoundReference } from '../../vision/reference/round-reference.ts';
import { type DiscSpec, type FlatShape, flatShape, type RectangleSpec } from './flat-work-shapes.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

/** Everything that makes one picture. World: mm, origin on the table below the picture's middle, z up. */
export interface FlatWorkScene {
  readonly work: DiscSpec | RectangleSpec;
  readonly workAt: readonly [xMm: number, yMm: number, turnRad: number];
  readonly reference: FlatReference | RoundReference;
  readonly referenceAt: readonly [xMm: number, yMm: number, turnRad: number];
  /** Slopes of a card along its x and y: bowed, embossed or on a crumb. It touches the table with a corner. */
  readonly referenceSlope: readonly [number, number];
  readonly imageWidthPx: number;
  readonly imageHeightPx: number;
  readonly camera: Camera;
  /** What the file says about the lens, or null. */
  readonly focal35Mm: number | null;
  /** Camera elevation above the table, direction it looks from, roll about the line of sight; distance to the origin. */
  readonly elevationRad: number;
  readonly azimuthRad: number;
  readonly rollRad: number;
  readonly distanceMm: number;
  readonly look: Look;
  readonly seed: number;
}

export interface Look {
  readonly table: 'wood' | 'linen' | 'plain' | 'speckled';
  readonly tableColour: Vector3;
  readonly yarnColour: Vector3;
  readonly cardColours: readonly [Vector3, Vector3];
  readonly lightTurnRad: number;
  readonly lightElevationRad: number;
  /** Share of the light that comes from all around. */
  readonly ambient: number;
  readonly exposure: number;
  readonly whiteBalance: Vector3;
  readonly blurPx: number;
  readonly noise: number;
  readonly hasYarnTail: boolean;
  readonly hasHook: boolean;
  readonly fuzz: number;
}

export interface FlatWorkPicture {
  readonly photo: Photo;
  readonly scene: FlatWorkScene;
  /** Clockwise from top-left as seen; null with a round reference. */
  readonly cornersPx: CornersPx | null;
  readonly longSide: 0 | 1;
  /** Points on the upper rim of a round reference, in order; empty with a card. */
  readonly rimPx: readonly ImagePoint[];
  /** The outline where the work is widest, half a thickness above the table. */
  readonly outlinePx: readonly ImagePoint[];
  /** A point inside the work. */
  readonly insidePx: ImagePoint;
}

const TAU = 2 * Math.PI;

/** A random, photographable scene: work and card side by side, seen from 38° above the table to straight down. */
export function randomScene(
  seed: number,
  work: DiscSpec | RectangleSpec,
  reference: FlatReference | RoundReference = ID1_CARD,
  imageSizePx: readonly [width: number, height: number] = [1600, 1200],
): FlatWorkScene {
  const random = seededRandom(seed * 7919 + 13);
  const [imageWidthPx, imageHeightPx] = imageSizePx;
  const workReachMm = work.kind === 'disc' ? work.meanDiameterMm / 2 : Math.hypot(work.widthMm, work.lengthMm) / 2;
  const referenceReachMm = 'diameterMm' in reference ? reference.diameterMm / 2 : reference.heightMm / 2 + 6;
  const gapMm = random.uniform(12, 30);
  const side = random.uniform(0, TAU);
  const apartMm = workReachMm + gapMm + referenceReachMm;
  const along: readonly [number, number] = [Math.cos(side), Math.sin(side)];
  const referenceTurn = side + Math.PI / 2 + random.normal(0.12);
  const halfMm = 0.5 * apartMm;
  const focal35 = random.pick([24, 26, 26, 27, 28, 50]);
  const diagonalPx = Math.hypot(imageWidthPx, imageHeightPx);
  // Real lenses differ from their nominal focal length, which files give in whole millimetres.
  const trueFocal35 = (focal35 + random.uniform(-0.5, 0.5)) * (1 + random.normal(0.015));
  const focalPx = (trueFocal35 * diagonalPx) / 43.2666;
  const made = asMade(reference, seededRandom(seed * 7919 + 14));
  const scene: FlatWorkScene = {
    work,
    workAt: [-along[0] * halfMm, -along[1] * halfMm, random.uniform(0, TAU)],
    reference: made.reference,
    referenceSlope: made.slope,
    referenceAt: [along[0] * halfMm, along[1] * halfMm, referenceTurn],
    imageWidthPx,
    imageHeightPx,
    camera: {
      focalPx,
      centreXPx: (imageWidthPx - 1) / 2 + random.normal(0.004 * imageWidthPx),
      centreYPx: (imageHeightPx - 1) / 2 + random.normal(0.004 * imageWidthPx),
      k1: random.normal(0.01),
    },
    focal35Mm: random.chance(0.75) ? focal35 : null,
    elevationRad: random.uniform(38, 88) * (Math.PI / 180),
    azimuthRad: random.uniform(0, TAU),
    rollRad: random.normal(0.06),
    distanceMm: 2 * apartMm,
    look: randomLook(random),
    seed,
  };
  return { ...scene, distanceMm: distanceThatFits(scene) * random.uniform(1, 1.35) };
}

/** Angle to which cards lie flat, as the engine supposes it. */
const LIFT_SD_RAD = 0.4 * (Math.PI / 180);

/** A card within the tolerance of its size, and how it lies; round references as they are named. */
function asMade(reference: FlatReference | RoundReference, random: SeededRandom) {
  if ('diameterMm' in reference) return { reference, slope: [0, 0] as const };
  const size = 1 + Math.sqrt(3) * reference.relativeSd * random.uniform(-1, 1);
  return {
    reference: { ...reference, widthMm: size * reference.widthMm, heightMm: size * reference.heightMm },
    slope: [random.normal(LIFT_SD_RAD), random.normal(LIFT_SD_RAD)] as const,
  };
}

/** The nearest distance, in steps of 4 %, from which the work and the reference are wholly in the picture. */
function distanceThatFits(scene: FlatWorkScene): number {
  const { imageWidthPx, imageHeightPx, work, reference } = scene;
  const workReachMm = work.kind === 'disc' ? work.meanDiameterMm * 0.52 : Math.hypot(work.widthMm, work.lengthMm) / 2;
  const referenceReachMm =
    'diameterMm' in reference ? reference.diameterMm / 2 : Math.hypot(reference.widthMm, reference.heightMm) / 2;
  const rim = (at: readonly [number, number, number], reachMm: number): Vector3[] =>
    Array.from({ length: 24 }, (_, i) => {
      const [c, s] = [Math.cos((TAU * i) / 24), Math.sin((TAU * i) / 24)];
      return [at[0] + reachMm * c, at[1] + reachMm * s, 0];
    });
  const points = [...rim(scene.workAt, workReachMm), ...rim(scene.referenceAt, referenceReachMm)];
  const margin = 0.03 * imageHeightPx;
  let distanceMm = scene.distanceMm;
  const fits = (): boolean => {
    const view = viewOf({ ...scene, distanceMm });
    return points.every((point) => {
      const [u, v] = projectWorld(scene.camera, view, point);
      return u > margin && v > margin && u < imageWidthPx - margin && v < imageHeightPx - margin;
    });
  };
  while (!fits()) distanceMm *= 1.04;
  return distanceMm;
}

/** Renders a scene: rays at random places in each pixel, then the lens, the light and the sensor. */
export function takePicture(scene: FlatWorkScene): FlatWorkPicture {
  const view = viewOf(scene);
  const linear = castScene(scene, view);
  const rgba = develop(linear, scene);
  const shape = flatShape(scene.work);
  const outlineMm = planOutline(shape);
  const place = (x: number, y: number, z: number): ImagePoint => {
    const [wx, wy] = fromPiece(scene.workAt, x, y);
    return projectWorld(scene.camera, view, [wx, wy, z]);
  };
  const corners = 'diameterMm' in scene.reference ? null : cardCorners(scene, view);
  return {
    photo: {
      widthPx: scene.imageWidthPx,
      heightPx: scene.imageHeightPx,
      rgba,
      lens: { focal35Mm: scene.focal35Mm, looksCropped: false },
    },
    scene,
    cornersPx: corners?.cornersPx ?? null,
    longSide: corners?.longSide ?? 0,
    rimPx: 'diameterMm' in scene.reference ? roundRim(scene, scene.reference, view) : [],
    outlinePx: outlineMm.map(([x, y]) => place(x, y, shape.thicknessMm / 2)),
    insidePx: place(0, 0, shape.thicknessMm),
  };
}

interface View {
  readonly eye: Vector3;
  /** cameraFromWorld, rows x right, y down, z forward. */
  readonly rotation: readonly number[];
}

function viewOf(scene: FlatWorkScene): View {
  const { elevationRad, azimuthRad, rollRad, distanceMm } = scene;
  const towards: Vector3 = [
    Math.cos(elevationRad) * Math.cos(azimuthRad),
    Math.cos(elevationRad) * Math.sin(azimuthRad),
    Math.sin(elevationRad),
  ];
  const forward = scale(towards, -1);
  const level: Vector3 = [Math.sin(azimuthRad), -Math.cos(azimuthRad), 0];
  const down0 = cross(forward, scale(level, -1));
  const right0 = scale(level, -1);
  const [c, s] = [Math.cos(rollRad), Math.sin(rollRad)];
  const right: Vector3 = [0, 1, 2].map((i) => c * right0[i] + s * down0[i]) as unknown as Vector3;
  const down = cross(forward, right);
  return { eye: scale(towards, distanceMm), rotation: [...unit(right), ...unit(down), ...forward] };
}

function projectWorld(camera: Camera, view: View, [x, y, z]: Vector3): ImagePoint {
  const [cx, cy, cz] = multiply(view.rotation, [x - view.eye[0], y - view.eye[1], z - view.eye[2]]);
  return projectPoint(camera, cx, cy, cz);
}

function cardCorners(scene: FlatWorkScene, view: View): { cornersPx: CornersPx; longSide: 0 | 1 } {
  const card = scene.reference as FlatReference;
  const [hx, hy] = [card.widthMm / 2, card.heightMm / 2];
  // Clockwise as seen from above: +y side from −x to +x, and on.
  const corners = (
    [
      [-hx, hy],
      [hx, hy],
      [hx, -hy],
      [-hx, -hy],
    ] as const
  ).map(([x, y]) => {
    const [wx, wy] = fromPiece(scene.referenceAt, x, y);
    return projectWorld(scene.camera, view, [wx, wy, card.thicknessMm + riseMm(scene, x, y)]);
  });
  const sums = corners.map(([x, y]) => x + y);
  const first = sums.indexOf(Math.min(...sums));
  const [a, b, c, d] = [0, 1, 2, 3].map((i) => corners[(first + i) % 4]);
  return { cornersPx: [a, b, c, d], longSide: first % 2 === 0 ? 0 : 1 };
}

/** How high a card's underside is above the table at a place on it. */
function riseMm({ reference, referenceSlope: [sx, sy] }: FlatWorkScene, x: number, y: number): number {
  if ('diameterMm' in reference) return 0;
  return sx * x + sy * y + (Math.abs(sx) * reference.widthMm + Math.abs(sy) * reference.heightMm) / 2;
}

function roundRim(scene: FlatWorkScene, { diameterMm, thicknessMm }: RoundReference, view: View): ImagePoint[] {
  return Array.from({ length: 24 }, (_, i) => {
    const turn = (TAU * i) / 24;
    const [x, y] = fromPiece(scene.referenceAt, (diameterMm / 2) * Math.cos(turn), (diameterMm / 2) * Math.sin(turn));
    return projectWorld(scene.camera, view, [x, y, thicknessMm]);
  });
}

/** Plan outline by marching outwards along 360 directions. */
function planOutline(shape: FlatShape): [number, number][] {
  return Array.from({ length: 360 }, (_, i) => {
    const [c, s] = [Math.cos((TAU * i) / 360), Math.sin((TAU * i) / 360)];
    let low = 0;
    let high = shape.reachMm;
    for (let step = 0; step < 24; step++) {
      const middle = (low + high) / 2;
      if (shape.outside(c * middle, s * middle) > 0) high = middle;
      else low = middle;
    }
    return [c * low, s * low];
  });
}

function fromPiece([px, py, turn]: readonly [number, number, number], x: number, y: number): [number, number] {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [px + c * x - s * y, py + s * x + c * y];
}

function castScene(scene: FlatWorkScene, { eye, rotation }: View): Float32Array {
  const { imageWidthPx: width, imageHeightPx: height, camera } = scene;
  const random = seededRandom(scene.seed * 31 + 7);
  const painter = scenePainter(scene);
  const pixels = new Float32Array(3 * width * height);
  const ray = new Float64Array(RAY_SIZE);
  const colour = new Float64Array(3);
  const cast = (u: number, v: number): void => {
    castRay(camera, u + random.uniform(-0.5, 0.5), v + random.uniform(-0.5, 0.5), ray);
    painter(eye, multiplyTransposed(rotation, [ray[0], ray[1], 1]), colour);
  };
  for (let v = 0, i = 0; v < height; v++) {
    for (let u = 0; u < width; u++, i += 3) {
      cast(u, v);
      pixels.set(colour, i);
    }
  }
  // Pixels on an edge get more rays: a lens averages over the whole pixel.
  const first = Float32Array.from(pixels);
  for (let v = 0, i = 0; v < height; v++) {
    for (let u = 0; u < width; u++, i += 3) {
      if (!differs(first, i, u > 0 ? i - 3 : i) && !differs(first, i, v > 0 ? i - 3 * width : i)) continue;
      for (let n = 1; n < EDGE_RAYS; n++) {
        cast(u, v);
        for (let k = 0; k < 3; k++) pixels[i + k] += (colour[k] - pixels[i + k]) / (n + 1);
      }
    }
  }
  return pixels;
}

const EDGE_RAYS = 6;

function differs(pixels: Float32Array, i: number, j: number): boolean {
  const change = Math.abs(pixels[i] - pixels[j]) + Math.abs(pixels[i + 1] - pixels[j + 1]);
  return change + Math.abs(pixels[i + 2] - pixels[j + 2]) > 0.1;
}

/** What a ray from above the table sees, as linear light. */
function scenePainter(scene: FlatWorkScene): (eye: Vector3, direction: Vector3, colour: Float64Array) => void {
  const { look } = scene;
  const shape = flatShape(scene.work);
  const [workX, workY, workTurn] = scene.workAt;
  const [workCos, workSin] = [Math.cos(workTurn), Math.sin(workTurn)];
  const light: Vector3 = [
    Math.cos(look.lightElevationRad) * Math.cos(look.lightTurnRad),
    Math.cos(look.lightElevationRad) * Math.sin(look.lightTurnRad),
    Math.sin(look.lightElevationRad),
  ];
  const half = shape.thicknessMm / 2;
  const reliefMm = 0.28 * shape.thicknessMm;
  const top = shape.thicknessMm + 0.01;
  const toWork = (x: number, y: number): [number, number] => {
    const [dx, dy] = [x - workX, y - workY];
    return [workCos * dx + workSin * dy, -workSin * dx + workCos * dy];
  };
  /** Distance to the fabric, with the gaps between stitches pressed into its upper side. */
  const distance = (x: number, y: number, z: number): number => {
    const [a, b] = toWork(x, y);
    const outside = shape.outside(a, b);
    if (outside > 6) return outside - 1;
    const past = Math.max(outside + half, 0);
    const base = Math.hypot(past, z - half) - half;
    if (base > 1 || z < half) return base;
    return base + reliefMm * (1 - shape.relief(a, b)) * Math.min(1, Math.max(0, (z - half) / half));
  };
  const table = tablePainter(scene, shape, toWork);
  const reference = referencePainter(scene);
  const lit = (normal: Vector3): number => look.ambient + (1 - look.ambient) * Math.max(0, dot(normal, light));
  const flat = lit([0, 0, 1]);
  const shadowReachMm = Math.min(40, (2.5 * shape.thicknessMm) / Math.tan(look.lightElevationRad) + 4);

  const shadow = (x: number, y: number): number => {
    const [a, b] = toWork(x, y);
    const outside = shape.outside(a, b);
    if (outside > shadowReachMm || Math.hypot(a, b) > shape.reachMm + shadowReachMm) return 1;
    // Less sky is seen close to the edge, and the lamp is hidden behind the fabric, with a soft rim.
    const sky = 1 - 0.45 * Math.exp(-Math.max(0, outside) / (0.6 * shape.thicknessMm));
    let lamp = 1;
    for (let t = 0.8; t * light[2] < top; t += 0.8) {
      const d = distance(x + t * light[0], y + t * light[1], 0.05 + t * light[2]);
      lamp = Math.min(lamp, Math.max(0, 0.5 + (4 * d) / t));
      if (lamp === 0) break;
    }
    const direct = (1 - look.ambient) * light[2] * Math.min(1, lamp);
    return (look.ambient * sky + direct) / flat;
  };

  return (eye, direction, colour) => {
    const toTable = -eye[2] / direction[2];
    const groundX = eye[0] + toTable * direction[0];
    const groundY = eye[1] + toTable * direction[1];
    if (reference(eye, direction, flat, colour)) return;
    if (Math.hypot(groundX - workX, groundY - workY) < shape.reachMm + 2 * shape.thicknessMm) {
      const length = Math.hypot(...direction);
      let t = ((top - eye[2]) / direction[2]) * length;
      const end = toTable * length;
      for (let step = 0; step < 40 && t < end; step++) {
        const x = eye[0] + (t / length) * direction[0];
        const y = eye[1] + (t / length) * direction[1];
        const z = eye[2] + (t / length) * direction[2];
        const d = distance(x, y, z);
        if (d < 0.03) {
          const [a, b] = toWork(x, y);
          if (shape.isHole(a, b)) break;
          const e = 0.15;
          const normal = unit([distance(x + e, y, z) - d, distance(x, y + e, z) - d, distance(x, y, z + e) - d + 1e-6]);
          const relief = shape.relief(a, b);
          const ply = 0.92 + 0.08 * Math.sin(9 * a + 7 * b + 4 * relief);
          const strand = 0.97 + 0.06 * (hash(Math.floor(a * 4), Math.floor(b * 4), scene.seed) - 0.5);
          const low = z < half ? 0.35 + 0.65 * (z / half) : 1;
          const brightness = lit(normal) * (0.4 + 0.6 * relief) * ply * strand * low;
          for (let k = 0; k < 3; k++) colour[k] = look.yarnColour[k] * brightness;
          return;
        }
        t += 0.75 * d;
      }
    }
    table(groundX, groundY, shadow(groundX, groundY) * flat, colour);
  };
}

type GroundPainter = (x: number, y: number, light: number, colour: Float64Array) => void;

function tablePainter(
  scene: FlatWorkScene,
  shape: FlatShape,
  toWork: (x: number, y: number) => [number, number],
): GroundPainter {
  const { look, seed } = scene;
  const random = seededRandom(seed * 17 + 3);
  const grain = random.uniform(0, TAU);
  const [gc, gs] = [Math.cos(grain), Math.sin(grain)];
  const fall = random.uniform(0, 0.0012);
  const fallTurn = random.uniform(0, TAU);
  const tail = look.hasYarnTail ? yarnTail(scene, shape, random) : [];
  const hook = look.hasHook ? hookLine(scene, shape, random) : null;
  const hookColour: Vector3 = random.pick([
    [0.62, 0.63, 0.66],
    [0.5, 0.33, 0.16],
    [0.25, 0.3, 0.55],
  ] as const);
  return (x, y, light, colour) => {
    const [p, q] = [gc * x + gs * y, -gs * x + gc * y];
    let shade = 1 + fall * (Math.cos(fallTurn) * x + Math.sin(fallTurn) * y);
    if (look.table === 'wood') {
      shade *= 0.82 + 0.3 * noise(p * 0.02, q * 0.35, seed) + 0.08 * (noise(p * 0.2, q * 2, seed + 1) - 0.5);
      if (fraction(q / 95 + 0.31) < 0.012) shade *= 0.35;
    } else if (look.table === 'linen') {
      shade *= 0.9 + 0.1 * Math.sin(p * 7.5) * Math.sin(q * 7.5) + 0.18 * (noise(p * 0.9, q * 0.9, seed) - 0.5);
    } else if (look.table === 'speckled') {
      const speck = noise(p * 0.6, q * 0.6, seed);
      shade *= 0.92 + 0.25 * (speck - 0.5) + (speck > 0.78 ? 0.25 : 0) - (speck < 0.2 ? 0.25 : 0);
    } else {
      shade *= 0.98 + 0.04 * noise(p * 0.05, q * 0.05, seed);
    }
    for (let k = 0; k < 3; k++) colour[k] = look.tableColour[k] * shade * light;
    if (hook) {
      const away = segmentDistance(x, y, hook[0], hook[1]) / 3;
      if (away < 1) {
        for (let k = 0; k < 3; k++) colour[k] = hookColour[k] * light * (0.4 + 0.7 * Math.sqrt(1 - away * away));
        return;
      }
    }
    for (let i = 1; i < tail.length; i++) {
      const away = segmentDistance(x, y, tail[i - 1], tail[i]);
      if (away < 1.1) {
        const shine = Math.sqrt(1 - (away / 1.1) ** 2);
        for (let k = 0; k < 3; k++) colour[k] = look.yarnColour[k] * light * (0.35 + 0.65 * shine);
        return;
      }
    }
    const [a, b] = toWork(x, y);
    const outside = shape.outside(a, b);
    if (outside > 0 && outside < 2.5 && look.fuzz > 0) {
      const hair =
        look.fuzz * Math.exp(-outside / 0.5) * (hash(Math.floor(a * 6), Math.floor(b * 6), seed) > 0.5 ? 1 : 0.2);
      for (let k = 0; k < 3; k++) colour[k] += hair * (look.yarnColour[k] * light - colour[k]);
    }
  };
}

/** The working yarn: leaves the edge along a loose curve. */
function yarnTail(scene: FlatWorkScene, shape: FlatShape, random: SeededRandom): [number, number][] {
  const away = Math.atan2(scene.workAt[1] - scene.referenceAt[1], scene.workAt[0] - scene.referenceAt[0]);
  let turn = away + random.uniform(-1.2, 1.2);
  let x = scene.workAt[0] + 0.6 * shape.reachMm * Math.cos(turn);
  let y = scene.workAt[1] + 0.6 * shape.reachMm * Math.sin(turn);
  const points: [number, number][] = [[x, y]];
  for (let i = 0; i < 24; i++) {
    turn += random.normal(0.18);
    x += 0.15 * shape.reachMm * Math.cos(turn);
    y += 0.15 * shape.reachMm * Math.sin(turn);
    points.push([x, y]);
  }
  return points;
}

/** A hook laid down on the far side of the work, clear of it. */
function hookLine(scene: FlatWorkScene, shape: FlatShape, random: SeededRandom): [[number, number], [number, number]] {
  const away = Math.atan2(scene.workAt[1] - scene.referenceAt[1], scene.workAt[0] - scene.referenceAt[0]);
  const turn = away + random.uniform(-0.7, 0.7);
  const far = shape.reachMm + random.uniform(6, 20);
  const [mx, my] = [scene.workAt[0] + far * Math.cos(turn), scene.workAt[1] + far * Math.sin(turn)];
  const along = turn + Math.PI / 2;
  const [dx, dy] = [70 * Math.cos(along), 70 * Math.sin(along)];
  return [
    [mx - dx, my - dy],
    [mx + dx, my + dy],
  ];
}

type ReferencePainter = (eye: Vector3, direction: Vector3, light: number, colour: Float64Array) => boolean;

function referencePainter(scene: FlatWorkScene): ReferencePainter {
  const { reference, referenceAt, look } = scene;
  const [px, py, turn] = referenceAt;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const inside = (x: number, y: number): number => {
    const [a, b] = [c * (x - px) + s * (y - py), -s * (x - px) + c * (y - py)];
    if ('diameterMm' in reference) return Math.hypot(a, b) - reference.diameterMm / 2;
    const r = reference.cornerRadiusMm;
    const qx = Math.abs(a) - reference.widthMm / 2 + r;
    const qy = Math.abs(b) - reference.heightMm / 2 + r;
    return Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) + Math.min(Math.max(qx, qy), 0) - r;
  };
  const [one, two] = look.cardColours;
  // Slope of the card along the table's x and y.
  const [slopeX, slopeY] = fromPiece([0, 0, turn], ...scene.referenceSlope);
  const middleMm = riseMm(scene, 0, 0);
  return (eye, direction, light, colour) => {
    const above = eye[2] - middleMm - slopeX * (eye[0] - px) - slopeY * (eye[1] - py);
    const falls = slopeX * direction[0] + slopeY * direction[1] - direction[2];
    for (let level = 0; level <= 4; level++) {
      const z = reference.thicknessMm * (1 - level / 4);
      const t = (above - z) / falls;
      const [x, y] = [eye[0] + t * direction[0], eye[1] + t * direction[1]];
      if (inside(x, y) > 0) continue;
      const [a, b] = [c * (x - px) + s * (y - py), -s * (x - px) + c * (y - py)];
      const blend = 0.5 + 0.5 * Math.sin(0.05 * a + 0.08 * b);
      const chip = !('diameterMm' in reference) && Math.abs(a + 24) < 6 && Math.abs(b - 4) < 5;
      const edge = level === 0 ? 1 : 0.7;
      for (let k = 0; k < 3; k++) {
        colour[k] = edge * light * (chip ? [0.7, 0.55, 0.2][k] : one[k] + blend * (two[k] - one[k]));
      }
      return true;
    }
    return false;
  };
}

/** Blur, exposure, vignetting, sensor noise, sRGB (IEC 61966-2-1). */
function develop(linear: Float32Array, scene: FlatWorkScene): Uint8Array {
  const { imageWidthPx: width, imageHeightPx: height, look, camera } = scene;
  const random = seededRandom(scene.seed * 101 + 9);
  const soft = gaussianBlur(linear, width, height, look.blurPx);
  const normals = Float32Array.from({ length: 1 << 14 }, () => random.normal());
  const rgba = new Uint8Array(4 * width * height);
  for (let v = 0, i = 0, j = 0; v < height; v++) {
    for (let u = 0; u < width; u++, i += 3, j += 4) {
      const r2 = ((u - camera.centreXPx) ** 2 + (v - camera.centreYPx) ** 2) / camera.focalPx ** 2;
      const gain = look.exposure / (1 + 0.5 * r2) ** 2;
      for (let k = 0; k < 3; k++) {
        const signal = soft[i + k] * gain * look.whiteBalance[k];
        const sd = look.noise * (0.25 + Math.sqrt(Math.max(signal, 0)));
        rgba[j + k] = displayLevel(signal + sd * normals[random.whole(0, normals.length - 1)]);
      }
      rgba[j + 3] = 255;
    }
  }
  return rgba;
}

function srgb(linear: number): number {
  const x = Math.min(1, Math.max(0, linear));
  return x <= 0.0031308 ? 12.92 * x : 1.055 * x ** (1 / 2.4) - 0.055;
}

/** 8-bit display levels of evenly spaced linear light. */
const DISPLAY_LEVELS = Uint8Array.from({ length: 8193 }, (_, i) => Math.round(255 * srgb(i / 8192)));

function displayLevel(linear: number): number {
  return DISPLAY_LEVELS[Math.round(8192 * Math.min(1, Math.max(0, linear)))];
}

function gaussianBlur(pixels: Float32Array, width: number, height: number, sigma: number): Float32Array {
  const reach = Math.ceil(3 * sigma);
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = kernel.reduce((a, b) => a + b, 0);
  const pass = (from: Float32Array, stepX: number, stepY: number): Float32Array => {
    const to = new Float32Array(from.length);
    for (let v = 0, i = 0; v < height; v++) {
      for (let u = 0; u < width; u++, i += 3) {
        for (let n = -reach; n <= reach; n++) {
          const x = Math.min(width - 1, Math.max(0, u + n * stepX));
          const y = Math.min(height - 1, Math.max(0, v + n * stepY));
          const j = 3 * (y * width + x);
          const weight = kernel[n + reach] / sum;
          to[i] += weight * from[j];
          to[i + 1] += weight * from[j + 1];
          to[i + 2] += weight * from[j + 2];
        }
      }
    }
    return to;
  };
  return pass(pass(pixels, 1, 0), 0, 1);
}

/** Linear-light colours of things at a market stall. */
const TABLES: readonly (readonly [Look['table'], Vector3])[] = [
  ['wood', [0.36, 0.2, 0.09]],
  ['wood', [0.55, 0.38, 0.21]],
  ['wood', [0.14, 0.075, 0.04]],
  ['linen', [0.6, 0.55, 0.45]],
  ['linen', [0.12, 0.17, 0.27]],
  ['plain', [0.75, 0.75, 0.73]],
  ['plain', [0.07, 0.07, 0.08]],
  ['plain', [0.28, 0.38, 0.36]],
  ['speckled', [0.5, 0.49, 0.47]],
  ['speckled', [0.2, 0.21, 0.22]],
];

const YARNS: readonly Vector3[] = [
  [0.8, 0.76, 0.66],
  [0.55, 0.06, 0.05],
  [0.05, 0.16, 0.42],
  [0.1, 0.35, 0.2],
  [0.75, 0.5, 0.06],
  [0.6, 0.3, 0.36],
  [0.03, 0.03, 0.035],
  [0.35, 0.35, 0.37],
  [0.1, 0.45, 0.5],
];

/** Colours closer than this to the table's are left out: a maker would not see the edge herself. */
const LEAST_CONTRAST = 0.22;

function randomLook(random: SeededRandom): Look {
  const [table, tableColour] = random.pick(TABLES);
  const yarns = YARNS.filter((yarn) => contrast(yarn, tableColour) > LEAST_CONTRAST);
  const cards: Vector3[] = [
    [0.75, 0.76, 0.78],
    [0.04, 0.08, 0.25],
    [0.5, 0.08, 0.1],
    [0.05, 0.3, 0.3],
    [0.7, 0.6, 0.35],
  ].filter((card) => contrast(card as unknown as Vector3, tableColour) > LEAST_CONTRAST) as unknown as Vector3[];
  const card = random.pick(cards);
  const tint: Vector3 = [
    card[0] * random.uniform(0.75, 1.25),
    card[1] * random.uniform(0.75, 1.25),
    card[2] * random.uniform(0.75, 1.25),
  ];
  return {
    table,
    tableColour,
    yarnColour: random.pick(yarns),
    cardColours: [card, tint],
    lightTurnRad: random.uniform(0, TAU),
    lightElevationRad: random.uniform(28, 75) * (Math.PI / 180),
    ambient: random.uniform(0.35, 0.65),
    exposure: random.uniform(0.85, 1.35),
    whiteBalance: [random.uniform(0.9, 1.12), 1, random.uniform(0.85, 1.1)],
    blurPx: random.uniform(0.6, 1.3),
    noise: random.uniform(0.004, 0.02),
    hasYarnTail: random.chance(0.6),
    hasHook: random.chance(0.25),
    fuzz: random.uniform(0, 0.6),
  };
}

/** Distance of two linear colours in gamma-coded units. */
function contrast(a: Vector3, b: Vector3): number {
  return Math.hypot(...[0, 1, 2].map((k) => srgb(a[k]) - srgb(b[k])));
}

function segmentDistance(x: number, y: number, a: readonly number[], b: readonly number[]): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy);
}

/** Smooth noise in 0..1 with knots at whole numbers. */
function noise(x: number, y: number, seed: number): number {
  const [i, j] = [Math.floor(x), Math.floor(y)];
  const [fx, fy] = [smooth(x - i), smooth(y - j)];
  const top = hash(i, j, seed) * (1 - fx) + hash(i + 1, j, seed) * fx;
  const bottom = hash(i, j + 1, seed) * (1 - fx) + hash(i + 1, j + 1, seed) * fx;
  return top * (1 - fy) + bottom * fy;
}

function smooth(t: number): number {
  return t * t * (3 - 2 * t);
}

function hash(i: number, j: number, seed: number): number {
  let h = Math.imul(i, 0x27d4eb2d) ^ Math.imul(j, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}

function fraction(value: number): number {
  return value - Math.floor(value);
}
