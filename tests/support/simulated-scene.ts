import { cameraPoint } from '../../vision/container/container-model.ts';
import type { PhotoSight } from '../../vision/container/fit-container.ts';
import { projectSolidOutline, type View } from '../../vision/container/project-model-outline.ts';
import { type Camera, projectPoint } from '../../vision/geometry/camera-ray.ts';
import { focalPriorFromLens, principalPointSdPx } from '../../vision/geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import {
  add,
  cross,
  dot,
  type Matrix3,
  multiply,
  multiplyMatrices,
  scale,
  subtract,
  unit,
  type Vector3,
} from '../../vision/geometry/linear3.ts';
import type { Polyline } from '../../vision/geometry/solid-of-revolution.ts';
import type { Arrangement } from '../../vision/measurement.ts';
import { type CoinView, coinSighting } from '../../vision/reference/coin-sighting.ts';
import { type FlatReference, ID1_CARD } from '../../vision/reference/reference.ts';
import { type RoundReference, squareAbout } from '../../vision/reference/round-reference.ts';
import type { CardSide, CardSighting, OutlinePoint } from '../../vision/sighting.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

/** What the photo's metadata say: the 35 mm-equivalent to a tenth, as a whole number, or nothing. */
export type FocalCase = 'exact' | 'rounded' | 'unknown';

export interface SceneChoice {
  readonly arrangement: Arrangement;
  readonly focalCase: FocalCase;
  readonly longSidePx: 4032 | 1600;
  /** What draws the outline; the model's own projector when left out. */
  readonly outlineOf?: (solid: Polyline, view: View, spacingPx: number) => readonly Omit<OutlinePoint, 'sdPx'>[];
  /** Turns every error off: exact observations, nuisances at their means. */
  readonly exact?: boolean;
  /** Lies on the table in place of the card. */
  readonly coin?: RoundReference;
  /** The picture is turned by this against what somebody before the table sees upright; beside a coin only. */
  readonly turnDeg?: number;
  /** Scenes with the same seed show the same container beside the same card. */
  readonly containerSeed?: number;
  /** Height of what a standing container stands on, over the table; 0 when left out. */
  readonly raisedMm?: number;
}

export interface SimulatedScene {
  readonly arrangement: Arrangement;
  readonly sight: PhotoSight;
  readonly kind: ContainerKind;
  readonly baseDiameterMm: number;
  /** Wall extended to the top, before the edge rounding: the base of a container that was taken upside down. */
  readonly topDiameterMm: number;
  readonly maxDiameterMm: number;
  readonly heightMm: number;
  readonly profile: Polyline;
  readonly view: View;
  readonly baseEdgeMm: number;
  readonly topEdgeMm: number;
}

export type ContainerKind = 'can' | 'bottle' | 'jar' | 'tumbler' | 'waisted';
const KINDS: readonly ContainerKind[] = ['can', 'bottle', 'jar', 'tumbler', 'waisted'];

const DEGREE = Math.PI / 180;
const FULL_FRAME_DIAGONAL_MM = 43.2666;
/** As issue 3 and the measurement model ask: card sides 0.3 px, outline 0.5–1 px over 10 px. */
const CARD_SD_PX = 0.3;
const CORRELATION_PX = 10;
const SAMPLES_PER_SIDE = 8;
/** Each sample of a coin's rim, and all of them together. */
const COIN_SD_PX = 0.7;
const COIN_HALO_SD_PX = 0.3;
const RIM_SAMPLES = 60;

/**
 * A random scene as a photo would show it: card sides and outline with correlated noise, every nuisance (focal length,
 * principal point, distortion, card size and bow, table tilt, contact gap, halos) drawn from its prior.
 * The container frame is the world: base centre at the origin, axis up z.
 */
export function simulateScene(random: SeededRandom, choice: SceneChoice): SimulatedScene {
  for (let attempt = 0; attempt < 200; attempt++) {
    const scene = drawScene(random, choice);
    if (scene) return scene;
  }
  throw new Error('No scene with container and card in the frame was drawn.');
}

interface Container {
  readonly kind: ContainerKind;
  readonly profile: Polyline;
  readonly baseDiameterMm: number;
  readonly topDiameterMm: number;
  readonly baseEdgeMm: number;
  readonly topEdgeMm: number;
}

/** worldFromCard. */
interface CardPlace {
  readonly rotation: Matrix3;
  readonly centre: Vector3;
}

function drawScene(random: SeededRandom, choice: SceneChoice): SimulatedScene | null {
  const things = choice.containerSeed === undefined ? null : seededRandom(choice.containerSeed);
  const container = drawContainer(things ?? random);
  const height = container.profile.zMm[container.profile.count - 1];
  const error = (sd: number) => (choice.exact ? 0 : random.normal(sd));
  const reference = choice.coin ? squareAbout(choice.coin) : ID1_CARD;
  const setting = drawSetting(random, choice, container, reference, error);
  if (!setting) return null;
  const { card, target, towardsCamera, up } = setting;

  const portrait = choice.arrangement === 'lying' ? random.chance(0.5) : true;
  const short = Math.round(choice.longSidePx * 0.75);
  const [width, tall] = portrait ? [short, choice.longSidePx] : [choice.longSidePx, short];
  const lens = drawLens(random, choice.focalCase, error);
  const pxPerMm = Math.hypot(width, tall) / FULL_FRAME_DIAGONAL_MM;
  const centreSd = principalPointSdPx(width, tall, false);
  const camera: Camera = {
    focalPx: lens.trueMm * pxPerMm,
    centreXPx: (width - 1) / 2 + error(centreSd),
    centreYPx: (tall - 1) / 2 + error(centreSd),
    k1: error(0.01),
  };
  const roll = choice.arrangement === 'standing' ? (choice.turnDeg ?? 0) * DEGREE : 0;
  const rotation = lookAlong(scale(towardsCamera, -1), up, roll + random.normal(2 * DEGREE));
  const cardMarks = cornersMm(0, reference).map((corner) => add(multiply(card.rotation, corner), card.centre));
  const solidMarks = boundaryMarks(container.profile);
  const distance = fittingDistance(
    rotation,
    target,
    towardsCamera,
    camera,
    [...cardMarks, ...solidMarks],
    width,
    tall,
    random.uniform(0.72, 0.92),
  );
  if (!distance) return null;
  const eye = add(target, scale(towardsCamera, distance));
  // cameraFromCard and cardFromContainer from the world poses
  const cameraFromCard = multiplyMatrices(rotation, card.rotation);
  const cardFromWorld = transposed(card.rotation);
  const view: View = {
    camera,
    rotation: cameraFromCard,
    translationMm: multiply(rotation, subtract(card.centre, eye)),
    containerRotation: cardFromWorld,
    baseCentreMm: multiply(cardFromWorld, scale(card.centre, -1)),
  };
  const facing = multiply(cameraFromCard, [0, 0, 1]);
  const tilt = -dot(facing, unit(view.translationMm));
  if (tilt < Math.cos(62 * DEGREE)) return null;

  const focalPrior = focalPriorFromLens({ focal35Mm: lens.statedMm, looksCropped: false }, width, tall);
  const seen = choice.coin
    ? seeCoin(view, random, choice.coin, { reference, focalPrior, widthPx: width, heightPx: tall }, choice.exact)
    : seeCard(view, error, things?.normal(ID1_CARD.relativeSd));
  if (!seen) return null;
  const outlineSd = random.uniform(0.5, 1);
  const outline = seeOutline(random, container, view, seen.trueCornersPx, choice, outlineSd, width, tall);
  if (!outline) return null;
  const xs = seen.trueCornersPx.map(([x]) => x);
  const ys = seen.trueCornersPx.map(([, y]) => y);
  if (Math.min(...xs) < 3 || Math.min(...ys) < 3 || Math.max(...xs) > width - 4 || Math.max(...ys) > tall - 4)
    return null;
  let widest = 0;
  for (let v = 0; v < container.profile.count; v++) widest = Math.max(widest, container.profile.radiusMm[v]);
  return {
    arrangement: choice.arrangement,
    kind: container.kind,
    sight: {
      imageWidthPx: width,
      imageHeightPx: tall,
      focalPrior,
      looksCropped: false,
      reference,
      card: seen.card,
      outline: { points: outline, correlationLengthPx: CORRELATION_PX, cutByFrame: false },
    },
    baseDiameterMm: container.baseDiameterMm,
    topDiameterMm: container.topDiameterMm,
    maxDiameterMm: 2 * widest,
    heightMm: height,
    profile: container.profile,
    view,
    baseEdgeMm: container.baseEdgeMm,
    topEdgeMm: container.topEdgeMm,
  };
}

function drawLens(
  random: SeededRandom,
  focalCase: FocalCase,
  error: (sd: number) => number,
): { readonly trueMm: number; readonly statedMm: number | null } {
  const nominal = random.chance(0.75) ? random.uniform(23, 29) : random.uniform(46, 54);
  const trueMm = nominal * Math.exp(error(0.015));
  if (focalCase === 'unknown') return { trueMm, statedMm: null };
  return { trueMm, statedMm: focalCase === 'exact' ? nominal : Math.round(nominal) };
}

/** Wall of the container as [share of height, radius] corners, rounded into a fine polyline. */
function drawContainer(random: SeededRandom): Container {
  const kind = random.pick(KINDS);
  const radius = random.uniform(27, 46);
  const baseEdgeMm = random.uniform(1.5, 7);
  const topEdgeMm = random.uniform(0.8, 2.5);
  const corners: [number, number, number][] = [];
  let height = random.uniform(90, 170);
  if (kind === 'can') corners.push([0, radius, 0], [height, radius, 0]);
  if (kind === 'tumbler') corners.push([0, radius, 0], [height, radius * random.uniform(1.1, 1.4), 0]);
  if (kind === 'waisted') {
    const waist = radius * random.uniform(0.86, 0.94);
    corners.push([0, radius, 0], [0.5 * height, waist, 60], [height, radius * random.uniform(0.95, 1.05), 0]);
  }
  if (kind === 'bottle') {
    height = random.uniform(170, 270);
    const neck = radius * random.uniform(0.5, 0.7);
    const cap = neck + random.uniform(1, 2.5);
    corners.push([0, radius, 0], [0.66 * height, radius, 18], [0.8 * height, neck, 2], [0.83 * height, neck, 0.1]);
    corners.push([0.831 * height, cap, 0.6], [height, cap - random.uniform(0, 0.8), 0]);
  }
  if (kind === 'jar') {
    height = random.uniform(80, 140);
    const neck = radius * random.uniform(0.86, 0.92);
    const lid = radius * random.uniform(0.98, 1.05);
    corners.push([0, radius, 0], [0.78 * height, radius, 5], [0.84 * height, neck, 0.5], [0.87 * height, neck, 0.1]);
    corners.push([0.873 * height, lid, 0.5], [height, lid, 0]);
  }
  return {
    kind,
    profile: roundedProfile(corners, height, baseEdgeMm, topEdgeMm),
    baseDiameterMm: 2 * radius,
    topDiameterMm: 2 * corners[corners.length - 1][1],
    baseEdgeMm,
    topEdgeMm,
  };
}

/** Corners [z, r, fillet radius] to a polyline with fillets and quarter-circle end edges. */
function roundedProfile(
  corners: readonly [number, number, number][],
  height: number,
  base: number,
  top: number,
): Polyline {
  const wall: [number, number][] = [];
  corners.forEach(([z, r, fillet], i) => {
    if (i === 0 || i === corners.length - 1 || fillet === 0) {
      wall.push([z, r]);
      return;
    }
    wall.push(...filletArc(corners[i - 1], [z, r], corners[i + 1], fillet));
  });
  const wallAt = (z: number): number => {
    const i = Math.min(Math.max(wall.findIndex(([wz]) => wz > z) - 1, 0), wall.length - 2);
    const last = z >= wall[wall.length - 1][0] ? wall.length - 2 : i;
    const [[z0, r0], [z1, r1]] = [wall[last], wall[last + 1]];
    return r0 + ((r1 - r0) * (z - z0)) / (z1 - z0);
  };
  const points: [number, number][] = [];
  const arc = 24;
  for (let k = 0; k <= arc; k++) {
    const angle = (k / arc) * (Math.PI / 2);
    const z = base * (1 - Math.cos(angle));
    points.push([z, wallAt(z) - base * (1 - Math.sin(angle))]);
  }
  for (const [z, r] of wall) if (z > base + 1e-3 && z < height - top - 1e-3) points.push([z, r]);
  for (let k = arc; k >= 0; k--) {
    const angle = (k / arc) * (Math.PI / 2);
    const z = height - top * (1 - Math.cos(angle));
    points.push([z, wallAt(z) - top * (1 - Math.sin(angle))]);
  }
  const distinct = points.filter(([z], i) => i === 0 || z > points[i - 1][0] + 1e-6);
  return {
    count: distinct.length,
    zMm: Float64Array.from(distinct, ([z]) => z),
    radiusMm: Float64Array.from(distinct, ([, r]) => r),
  };
}

function filletArc(
  before: readonly number[],
  corner: readonly [number, number],
  after: readonly number[],
  radius: number,
): [number, number][] {
  const toBefore = direction2(corner, before);
  const toAfter = direction2(corner, after);
  const half = Math.acos(Math.min(Math.max(toBefore.x * toAfter.x + toBefore.y * toAfter.y, -1), 1)) / 2;
  if (half > Math.PI / 2 - 1e-3) return [[corner[0], corner[1]]];
  const cut = Math.min(radius / Math.tan(half), 0.45 * toBefore.length, 0.45 * toAfter.length);
  const actual = cut * Math.tan(half);
  const start = [corner[0] + cut * toBefore.x, corner[1] + cut * toBefore.y];
  const end = [corner[0] + cut * toAfter.x, corner[1] + cut * toAfter.y];
  const middleX = toBefore.x + toAfter.x;
  const middleY = toBefore.y + toAfter.y;
  const size = Math.hypot(middleX, middleY);
  const reach = actual / Math.sin(half);
  const centre = [corner[0] + (reach * middleX) / size, corner[1] + (reach * middleY) / size];
  const from = Math.atan2(start[1] - centre[1], start[0] - centre[0]);
  let sweep = Math.atan2(end[1] - centre[1], end[0] - centre[0]) - from;
  sweep -= 2 * Math.PI * Math.round(sweep / (2 * Math.PI));
  const steps = Math.max(2, Math.ceil(Math.abs(sweep) / (5 * DEGREE)));
  return Array.from({ length: steps + 1 }, (_, k) => {
    const angle = from + (sweep * k) / steps;
    return [centre[0] + actual * Math.cos(angle), centre[1] + actual * Math.sin(angle)];
  });
}

function direction2(from: readonly number[], to: readonly number[]): { x: number; y: number; length: number } {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return { x: (to[0] - from[0]) / length, y: (to[1] - from[1]) / length, length };
}

interface Setting {
  readonly card: CardPlace;
  readonly target: Vector3;
  readonly towardsCamera: Vector3;
  /** Roughly up in the picture. */
  readonly up: Vector3;
}

function drawSetting(
  random: SeededRandom,
  { arrangement, turnDeg, raisedMm = 0 }: SceneChoice,
  container: Container,
  reference: FlatReference,
  error: (sd: number) => number,
): Setting | null {
  const { profile } = container;
  const height = profile.zMm[profile.count - 1];
  const widest = profile.radiusMm.reduce((a, b) => Math.max(a, b), 0);
  const tiltSd = 0.4 * DEGREE;
  if (arrangement === 'standing') {
    const azimuth = random.uniform(-60, 60) * DEGREE;
    const reach = widest + besideMm(random, reference, 45, 75);
    const normal = unit([error(tiltSd), error(tiltSd), 1]);
    const along = unit(subtract([1, 0, 0], scale(normal, normal[0])));
    const rotation = turnedAbout(normal, along, random.uniform(0, 2 * Math.PI));
    const centre: Vector3 = [reach * Math.sin(azimuth), -reach * Math.cos(azimuth), 0];
    const onTable = subtract(
      centre,
      scale(normal, dot(normal, centre) - reference.thicknessMm + raisedMm - error(0.1)),
    );
    return {
      card: { rotation, centre: onTable },
      target: [onTable[0] / 2, onTable[1] / 2, height / 2.5],
      towardsCamera: elevated(random.uniform(18, 48) * DEGREE, random.uniform(-8, 8) * DEGREE),
      up: [0, 0, 1],
    };
  }
  if (arrangement === 'card-leaning') return leaningSetting(random, container, error, tiltSd);

  // both others: a plane that touches the container along a meridian, at the azimuth of −y
  const lying = arrangement === 'lying';
  const upright = random.chance(0.2);
  const half = (upright ? ID1_CARD.widthMm : ID1_CARD.heightMm) / 2;
  if (!lying && height < 2 * half + 16) return null;
  const middle = lying ? null : random.uniform(half + 8, Math.min(0.6 * height, height - half - 8));
  const line = supportLine(profile, middle === null ? null : [middle - half, middle + half]);
  if (!line) return null;
  const touchSd = 0.15;
  const lowGap = error(touchSd);
  const highGap = error(touchSd);
  const slope = (line.r1 + highGap - line.r0 - lowGap) / (line.z1 - line.z0);
  const outward = unit([0, -1, -slope]);
  const onPlane: Vector3 = [0, -(line.r0 + lowGap), line.z0];
  const upAlong = unit([0, -slope, 1]);
  if (lying) {
    const tableUp = scale(outward, -1);
    const rotation = turnedAbout(tableUp, [1, 0, 0], random.uniform(0, 2 * Math.PI));
    const side = random.chance(0.5) ? 1 : -1;
    const centre = add(
      add(onPlane, scale([1, 0, 0], side * (widest + besideMm(random, reference, 50, 75)))),
      add(scale(upAlong, random.uniform(0.3, 0.7) * height - line.z0), scale(tableUp, reference.thicknessMm)),
    );
    const off = random.uniform(0, turnDeg === undefined ? 25 : 40) * DEGREE;
    const around = random.uniform(0, 2 * Math.PI);
    const onTable = (turn: number): Vector3 => add(scale([1, 0, 0], Math.cos(turn)), scale(upAlong, Math.sin(turn)));
    const lean = onTable(around);
    const up = () => {
      if (reference === ID1_CARD) return random.chance(0.5) ? upAlong : ([1, 0, 0] as const);
      // beside a coin: as seen by who stands before the table, or from above with the phone turned anyhow
      const turned = turnDeg ?? (off < 8 * DEGREE ? random.uniform(-180, 180) : random.uniform(-50, 50));
      return scale(onTable(around + turned * DEGREE), -1);
    };
    return {
      card: { rotation, centre },
      target: add(scale(centre, 0.4), [0, 0, 0.6 * (height / 2)]),
      towardsCamera: unit(add(scale(tableUp, Math.cos(off)), scale(lean, Math.sin(off)))),
      up: up(),
    };
  }
  const rotation = turnedAbout(outward, [1, 0, 0], (upright ? Math.PI / 2 : 0) + error(DEGREE));
  const centre = add(
    add(onPlane, scale(upAlong, (middle ?? 0) - line.z0)),
    add(scale(outward, ID1_CARD.thicknessMm), [random.uniform(-6, 6), 0, 0]),
  );
  return {
    card: { rotation, centre },
    target: [0, 0, height / 2],
    towardsCamera: elevated(random.uniform(-3, 18) * DEGREE, random.uniform(-15, 15) * DEGREE),
    up: [0, 0, 1],
  };
}

function leaningSetting(
  random: SeededRandom,
  { profile }: Container,
  error: (sd: number) => number,
  tiltSd: number,
): Setting | null {
  const portrait = random.chance(0.7);
  const cardHeight = portrait ? ID1_CARD.widthMm : ID1_CARD.heightMm;
  const lean = random.uniform(8, 20) * DEGREE;
  const faceOut: Vector3 = unit([error(tiltSd), -Math.cos(lean), Math.sin(lean)]);
  const level: Vector3 = [1, 0, error(tiltSd)];
  const sideways = unit(subtract(level, scale(faceOut, dot(level, faceOut))));
  const upCard = cross(faceOut, sideways);
  // place of the lower hidden edge so that the hidden face just touches
  let edgeY = Number.POSITIVE_INFINITY;
  const reach = cardHeight * Math.cos(lean);
  for (const z of [...profile.zMm.subarray(0, profile.count), reach]) {
    if (z <= reach) edgeY = Math.min(edgeY, -radiusAt(profile, z) - z * Math.tan(lean));
  }
  const lower: Vector3 = [random.uniform(-6, 6), edgeY + error(0.15), error(0.1)];
  const centre = add(add(lower, scale(upCard, cardHeight / 2)), scale(faceOut, ID1_CARD.thicknessMm));
  const x = portrait ? upCard : sideways;
  const y = portrait ? scale(sideways, -1) : upCard;
  return {
    card: { rotation: columns(x, y, faceOut), centre },
    target: [0, edgeY / 3, profile.zMm[profile.count - 1] / 2.2],
    towardsCamera: elevated(random.uniform(15, 40) * DEGREE, random.uniform(-25, 25) * DEGREE),
    up: [0, 0, 1],
  };
}

/**
 * The stretch of the profile's upper convex hull that spans the middle of a range (the whole body's centre of volume
 * when there is no range): a flat thing laid along the meridian touches at its two ends.
 */
function supportLine(
  { count, zMm, radiusMm }: Polyline,
  range: readonly [number, number] | null,
): { z0: number; r0: number; z1: number; r1: number } | null {
  const points: [number, number][] = [];
  let volume = 0;
  let moment = 0;
  for (let v = 0; v < count; v++) {
    if (!range || (zMm[v] >= range[0] && zMm[v] <= range[1])) points.push([zMm[v], radiusMm[v]]);
    if (v + 1 < count) {
      const slice = (zMm[v + 1] - zMm[v]) * (radiusMm[v] + radiusMm[v + 1]) ** 2;
      volume += slice;
      moment += (slice * (zMm[v] + zMm[v + 1])) / 2;
    }
  }
  if (range) {
    for (const z of range) points.push([z, radiusAt({ count, zMm, radiusMm }, z)]);
    points.sort((a, b) => a[0] - b[0]);
  }
  const middle = range ? (range[0] + range[1]) / 2 : moment / volume;
  const hull: [number, number][] = [];
  for (const point of points) {
    while (hull.length >= 2) {
      const [a, b] = [hull[hull.length - 2], hull[hull.length - 1]];
      if ((b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) < 0) break;
      hull.pop();
    }
    hull.push(point);
  }
  for (let i = 0; i + 1 < hull.length; i++) {
    if (hull[i][0] <= middle && hull[i + 1][0] >= middle) {
      if (hull[i + 1][0] - hull[i][0] < 12) return null;
      return { z0: hull[i][0], r0: hull[i][1], z1: hull[i + 1][0], r1: hull[i + 1][1] };
    }
  }
  return null;
}

export function radiusAt({ count, zMm, radiusMm }: Polyline, z: number): number {
  let i = 0;
  while (i + 2 < count && zMm[i + 1] < z) i++;
  return radiusMm[i] + ((radiusMm[i + 1] - radiusMm[i]) * (z - zMm[i])) / (zMm[i + 1] - zMm[i]);
}

/** Corners clockwise as seen from the front, starting anywhere: first = 0 is (−x, +y). */
function cornersMm(first: number, { widthMm, heightMm }: FlatReference = ID1_CARD): Vector3[] {
  const x = widthMm / 2;
  const y = heightMm / 2;
  const all: Vector3[] = [
    [-x, y, 0],
    [x, y, 0],
    [x, -y, 0],
    [-x, -y, 0],
  ];
  return [0, 1, 2, 3].map((k) => all[(first + k) % 4]);
}

function seeCard(view: View, error: (sd: number) => number, sizeError = error(ID1_CARD.relativeSd)) {
  const size = 1 + sizeError;
  const bow = error(0.2);
  const onFace = (p: Vector3): ImagePoint => {
    const arch = 1 - (2 * p[0]) ** 2 / ID1_CARD.widthMm ** 2 - 2 / 3;
    const flat = multiply(view.rotation, [p[0] * size, p[1] * size, bow * arch]);
    const [x, y, z] = add(flat, view.translationMm);
    return projectPoint(view.camera, x, y, z);
  };
  const unrotated = cornersMm(0).map(onFace);
  const sums = unrotated.map(([x, y]) => x + y);
  const first = sums.indexOf(Math.min(...sums));
  // the card looks the same turned by half: scenes keep to the half turn that a fit would call its card frame
  if (first === 1 || first === 2) return null;
  const corners = cornersMm(first);
  const trueCornersPx = corners.map(onFace) as unknown as CornersPx;
  const turn = area(trueCornersPx);
  if (turn < 0) return null;
  const sides = corners.map((from, k): CardSide => {
    const to = corners[(k + 1) % 4];
    const halo = error(0.5 * CARD_SD_PX);
    const start = onFace(from);
    const end = onFace(to);
    const length = Math.hypot(end[0] - start[0], end[1] - start[1]);
    const normal = [(end[1] - start[1]) / length, -(end[0] - start[0]) / length];
    const edgePointsPx = Array.from({ length: SAMPLES_PER_SIDE }, (_, i): ImagePoint => {
      const share = 0.08 + (0.84 * i) / (SAMPLES_PER_SIDE - 1);
      const [x, y] = onFace(add(from, scale(subtract(to, from), share)));
      const off = halo + error(CARD_SD_PX * Math.sqrt(SAMPLES_PER_SIDE));
      return [x + off * normal[0], y + off * normal[1]];
    });
    return { edgePointsPx, sdPx: CARD_SD_PX };
  }) as unknown as readonly [CardSide, CardSide, CardSide, CardSide];
  const lines = sides.map(({ edgePointsPx }) => fittedLine(edgePointsPx));
  const cornersPx = lines.map((line, k) => crossing(lines[(k + 3) % 4], line)) as unknown as CornersPx;
  const card: CardSighting = { cornersPx, sides, longSide: first % 2 === 0 ? 0 : 1, score: 1 };
  return { trueCornersPx, card };
}

/** Distance of the reference's middle from the widest place: what is smaller is laid nearer. */
function besideMm(random: SeededRandom, { widthMm }: FlatReference, nearMm: number, farMm: number): number {
  return random.uniform(nearMm, farMm) - (ID1_CARD.widthMm - widthMm) / 2;
}

/** A coin with a rounded rim; on the near side its edge may be taken for anything between face and table. */
function seeCoin(
  view: View,
  random: SeededRandom,
  { diameterMm, thicknessMm, relativeSd }: RoundReference,
  coinView: CoinView,
  exact = false,
) {
  const radius = (diameterMm / 2) * (exact ? 1 : 1 + random.normal(relativeSd));
  const rounding = thicknessMm * (exact ? 0.15 : Math.min(Math.max(0.15 + random.normal(0.08), 0.02), 0.4));
  const sideMm = thicknessMm * (exact ? 0.6 : random.uniform(0.2, 1));
  const depth = Math.max(sideMm, rounding + 0.01);
  const arc = Array.from({ length: 13 }, (_, k) => (k / 12) * (Math.PI / 2));
  const points = [
    [0, radius],
    ...arc.map((a) => [depth - rounding * (1 - Math.sin(a)), radius - rounding * (1 - Math.cos(a))]),
  ];
  const solid: Polyline = {
    count: points.length,
    zMm: Float64Array.from(points, ([z]) => z),
    radiusMm: Float64Array.from(points, ([, r]) => r),
  };
  const inCard: View = { ...view, containerRotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], baseCentreMm: [0, 0, -depth] };
  const around = projectSolidOutline(solid, inCard, 2);
  if (around.length < 40) return null;
  const haloPx = exact ? 0 : random.normal(COIN_HALO_SD_PX);
  const rim = Array.from({ length: RIM_SAMPLES }, (_, k): OutlinePoint => {
    const { xPx, yPx, normalX, normalY } = around[Math.floor((k * around.length) / RIM_SAMPLES)];
    const off = haloPx + (exact ? 0 : random.normal(COIN_SD_PX));
    return { xPx: xPx + off * normalX, yPx: yPx + off * normalY, normalX, normalY, sdPx: COIN_SD_PX };
  });
  const card = coinSighting({ points: rim, haloSdPx: COIN_HALO_SD_PX }, coinView);
  return card && { trueCornersPx: card.cornersPx, card };
}

function seeOutline(
  random: SeededRandom,
  container: Container,
  view: View,
  cardPx: CornersPx,
  choice: SceneChoice,
  sdPx: number,
  width: number,
  tall: number,
): OutlinePoint[] | null {
  const inFront = choice.arrangement === 'card-on-front' || choice.arrangement === 'card-leaning';
  const all = (choice.outlineOf ?? projectSolidOutline)(container.profile, view, CORRELATION_PX);
  if (all.length < 60) return null;
  const halo = choice.exact ? 0 : random.normal(0.3 * sdPx);
  // Ornstein–Uhlenbeck noise whose autocorrelation integrates to the stated length
  const memory = Math.exp(-CORRELATION_PX / (CORRELATION_PX / 2));
  let noise = random.normal(sdPx);
  const points: OutlinePoint[] = [];
  for (const p of all) {
    noise = memory * noise + Math.sqrt(1 - memory * memory) * random.normal(sdPx);
    if (p.xPx < 3 || p.yPx < 3 || p.xPx > width - 4 || p.yPx > tall - 4) return null;
    const hidden = insideConvex(p.xPx, p.yPx, cardPx, 4);
    if (hidden && !inFront) return null;
    if (hidden) continue;
    const off = choice.exact ? 0 : halo + noise;
    points.push({
      xPx: p.xPx + off * p.normalX,
      yPx: p.yPx + off * p.normalY,
      normalX: p.normalX,
      normalY: p.normalY,
      sdPx,
    });
  }
  return points;
}

function fittedLine(points: readonly ImagePoint[]): { x: number; y: number; dx: number; dy: number } {
  const x = points.reduce((s, p) => s + p[0], 0) / points.length;
  const y = points.reduce((s, p) => s + p[1], 0) / points.length;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [px, py] of points) {
    xx += (px - x) ** 2;
    xy += (px - x) * (py - y);
    yy += (py - y) ** 2;
  }
  const angle = 0.5 * Math.atan2(2 * xy, xx - yy);
  return { x, y, dx: Math.cos(angle), dy: Math.sin(angle) };
}

function crossing(a: ReturnType<typeof fittedLine>, b: ReturnType<typeof fittedLine>): ImagePoint {
  const t = ((b.x - a.x) * b.dy - (b.y - a.y) * b.dx) / (a.dx * b.dy - a.dy * b.dx);
  return [a.x + t * a.dx, a.y + t * a.dy];
}

function area(corners: CornersPx): number {
  return corners.reduce((sum, [x, y], i) => {
    const [nx, ny] = corners[(i + 1) % 4];
    return sum + x * ny - nx * y;
  }, 0);
}

function insideConvex(x: number, y: number, corners: CornersPx, margin: number): boolean {
  return corners.every(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4];
    return ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / Math.hypot(bx - ax, by - ay) > -margin;
  });
}

/** Direction to a camera in front (−y), raised by elevation and turned by azimuth. */
function elevated(elevation: number, azimuth: number): Vector3 {
  return [Math.cos(elevation) * Math.sin(azimuth), -Math.cos(elevation) * Math.cos(azimuth), Math.sin(elevation)];
}

/** cameraFromWorld of a camera that looks along a direction, y down, turned by roll. */
function lookAlong(forward: Vector3, up: Vector3, roll: number): number[] {
  const right = unit(cross(forward, up));
  const down = cross(forward, right);
  const x = add(scale(right, Math.cos(roll)), scale(down, Math.sin(roll)));
  const y = cross(forward, x);
  return [...x, ...y, ...forward];
}

/** worldFromCard with the given face normal; x is `along` turned by an angle. */
function turnedAbout(normal: Vector3, along: Vector3, angle: number): number[] {
  const flat = unit(subtract(along, scale(normal, dot(along, normal))));
  const other = cross(normal, flat);
  const x = add(scale(flat, Math.cos(angle)), scale(other, Math.sin(angle)));
  return columns(x, cross(normal, x), normal);
}

function columns(x: Vector3, y: Vector3, z: Vector3): number[] {
  return [x[0], y[0], z[0], x[1], y[1], z[1], x[2], y[2], z[2]];
}

function transposed(m: Matrix3): number[] {
  return [m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]];
}

/** Points on the rims and the widest places, enough to bound the container's image. */
function boundaryMarks({ count, zMm, radiusMm }: Polyline): Vector3[] {
  const marks: Vector3[] = [];
  for (let v = 0; v < count; v += 6) {
    for (let k = 0; k < 8; k++) {
      const angle = (k * Math.PI) / 4;
      marks.push([radiusMm[v] * Math.cos(angle), radiusMm[v] * Math.sin(angle), zMm[v]]);
    }
  }
  return marks;
}

/** Distance at which all marks just fit into the given share of the frame. */
function fittingDistance(
  rotation: Matrix3,
  target: Vector3,
  towardsCamera: Vector3,
  camera: Camera,
  marks: readonly Vector3[],
  width: number,
  tall: number,
  share: number,
): number | null {
  let low = 60;
  let high = 3000;
  const fits = (distance: number) => {
    const eye = add(target, scale(towardsCamera, distance));
    return marks.every((mark) => {
      const [x, y, z] = multiply(rotation, subtract(mark, eye));
      if (z < 30) return false;
      const [u, v] = projectPoint({ ...camera, k1: 0 }, x, y, z);
      return Math.abs(u - width / 2) < (share * width) / 2 && Math.abs(v - tall / 2) < (share * tall) / 2;
    });
  };
  if (!fits(high)) return null;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (fits(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** A point of the container frame in the image, for tests. */
export function imageOfPoint(view: View, point: Vector3): ImagePoint {
  const [x, y, z] = cameraPoint(view, point);
  return projectPoint(view.camera, x, y, z);
}
