import type { Photo } from '../../vision/picture/photo.ts';
import { seededRandom } from '../support/seeded-random.ts';

type Point = readonly [xMm: number, yMm: number, zMm: number];
type Light = readonly [red: number, green: number, blue: number];

/** Distance from a point to a surface, never too large, mm; frame: base centre at the origin, z up. */
export type Solid = (point: Point) => number;

export interface SolidScene {
  readonly solid: Solid;
  readonly colour: Light;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
}

/** A card standing for any ID-1 card, on the table in front of the solid and to its right, turned a little. */
const CARD = { xMm: 62, yMm: -62, turnRad: 0.35, widthMm: 85.6, heightMm: 53.98, radiusMm: 3.18, thicknessMm: 0.76 };
const EYE: Point = [25, -330, 240];
const TARGET: Point = [22, -12, 42];
/** From where the light comes. */
const LAMP = unit([-0.5, -0.45, 0.95]);
const AMBIENT = 0.35;
const NOISE_LEVELS = 2;
const FAR_MM = 1200;
/** Everything solid lies in this ball; rays past it are not walked. */
const BALL: Point = [10, 0, 60];
const BALL_MM = 110;
const SAMPLES = [-0.25, 0.25];

/** An upright can, its side straight, its edges rounded. */
export function can(radiusMm: number, heightMm: number, edgeMm = 3): Solid {
  return ([x, y, z]) => rounded(Math.hypot(x, y) - radiusMm, z, heightMm, edgeMm);
}

/** A can whose plan is an ellipse with these half axes. */
export function oval(alongMm: number, acrossMm: number, heightMm: number, edgeMm = 3): Solid {
  return ([x, y, z]) => {
    const k = Math.hypot(x / alongMm, y / acrossMm);
    const slope = Math.hypot(x / alongMm ** 2, y / acrossMm ** 2);
    return 0.8 * rounded(slope > 1e-9 ? (k * (k - 1)) / slope : -acrossMm, z, heightMm, edgeMm);
  };
}

/** A square box turned by some angle about the upright axis. */
export function box(sideMm: number, heightMm: number, turnRad: number, edgeMm = 6): Solid {
  const [c, s] = [Math.cos(turnRad), Math.sin(turnRad)];
  return ([x, y, z]) => {
    const [u, v] = [Math.abs(c * x + s * y) - sideMm / 2 + edgeMm, Math.abs(c * y - s * x) - sideMm / 2 + edgeMm];
    return rounded(Math.hypot(Math.max(u, 0), Math.max(v, 0)) + Math.min(Math.max(u, v), 0) - edgeMm, z, heightMm, 3);
  };
}

/** A solid with a handle of a mug on its right side. */
export function withHandle(solid: Solid, reachMm: number, zMm: number): Solid {
  return ([x, y, z]) => {
    const ring = Math.hypot(x - reachMm, z - zMm) - 24;
    return Math.min(solid([x, y, z]), Math.hypot(ring, y) - 5);
  };
}

/** Two distances, to a side and to the planes z = 0 and z = height, as one body with rounded edges. */
function rounded(side: number, z: number, heightMm: number, edgeMm: number): number {
  const [a, b] = [side + edgeMm, Math.abs(z - heightMm / 2) - heightMm / 2 + edgeMm];
  return Math.hypot(Math.max(a, 0), Math.max(b, 0)) + Math.min(Math.max(a, b), 0) - edgeMm;
}

/** A photo of the solid on a wooden table beside a card, by walking along rays to the nearest surface. */
export function drawSolid(scene: SolidScene): Photo {
  const { widthPx, heightPx, focalPx } = scene;
  const forward = unit(minus(TARGET, EYE));
  const right = unit(cross(forward, [0, 0, 1]));
  const down = cross(forward, right);
  const random = seededRandom(7);
  const rgba = new Uint8Array(4 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const sum = [0, 0, 0];
      for (const dx of SAMPLES) {
        for (const dy of SAMPLES) {
          const [u, v] = [(x + dx - widthPx / 2 + 0.5) / focalPx, (y + dy - heightPx / 2 + 0.5) / focalPx];
          const light = lightAlong(scene, unit(plus(forward, plus(times(right, u), times(down, v)))));
          for (let k = 0; k < 3; k++) sum[k] += light[k] / 4;
        }
      }
      const at = 4 * (y * widthPx + x);
      for (let k = 0; k < 3; k++) {
        rgba[at + k] = Math.round(
          Math.min(255, Math.max(0, 255 * Math.min(sum[k], 1) ** (1 / 2.2) + random.normal(NOISE_LEVELS))),
        );
      }
      rgba[at + 3] = 255;
    }
  }
  const focal35Mm = Math.round((focalPx * 43.2666) / Math.hypot(widthPx, heightPx));
  return { widthPx, heightPx, rgba, lens: { focal35Mm, looksCropped: false } };
}

function lightAlong({ solid, colour }: SolidScene, ray: Point): Light {
  const hit = walk(solid, EYE, ray);
  const toTable = -EYE[2] / ray[2];
  if (hit !== null && !(toTable > 0 && toTable < hit)) {
    const at = plus(EYE, times(ray, hit));
    const facing = Math.max(0, dot(normalAt(solid, at), LAMP));
    const shade = AMBIENT + (1 - AMBIENT) * facing * (isShadowed(solid, at) ? 0.2 : 1);
    return times(colour, shade);
  }
  if (!(toTable > 0 && toTable < FAR_MM)) return [0.55, 0.53, 0.5];
  const at = plus(EYE, times(ray, toTable));
  const light = cardLight(plus(EYE, times(ray, toTable * (1 - CARD.thicknessMm / EYE[2])))) ?? woodLight(at);
  return times(light, isShadowed(solid, at) ? 0.4 : 1);
}

function walk(solid: Solid, from: Point, ray: Point): number | null {
  const towards = minus(BALL, from);
  const along = dot(towards, ray);
  const away2 = dot(towards, towards) - along * along;
  if (away2 > BALL_MM ** 2) return null;
  const half = Math.sqrt(BALL_MM ** 2 - away2);
  let t = Math.max(0, along - half);
  for (let step = 0; step < 120 && t < along + half; step++) {
    const distance = solid([from[0] + t * ray[0], from[1] + t * ray[1], from[2] + t * ray[2]]);
    if (distance < 0.02) return t;
    t += distance;
  }
  return null;
}

function isShadowed(solid: Solid, at: Point): boolean {
  return walk(solid, plus(at, times(LAMP, 0.5)), LAMP) !== null;
}

function normalAt(solid: Solid, [x, y, z]: Point): Point {
  const e = 0.05;
  return unit([
    solid([x + e, y, z]) - solid([x - e, y, z]),
    solid([x, y + e, z]) - solid([x, y - e, z]),
    solid([x, y, z + e]) - solid([x, y, z - e]),
  ]);
}

/** A navy card with a chip and a pale stripe; null beside it. */
function cardLight([x, y]: Point): Light | null {
  const [c, s] = [Math.cos(CARD.turnRad), Math.sin(CARD.turnRad)];
  const [u, v] = [c * (x - CARD.xMm) + s * (y - CARD.yMm), c * (y - CARD.yMm) - s * (x - CARD.xMm)];
  const [a, b] = [Math.abs(u) - CARD.widthMm / 2 + CARD.radiusMm, Math.abs(v) - CARD.heightMm / 2 + CARD.radiusMm];
  if (Math.hypot(Math.max(a, 0), Math.max(b, 0)) + Math.min(Math.max(a, b), 0) > CARD.radiusMm) return null;
  if (Math.abs(u + 27) < 6 && Math.abs(v - 4) < 4.5) return [0.6, 0.5, 0.2];
  return Math.abs(v + 15) < 2 && u < 25 ? [0.5, 0.55, 0.6] : [0.02, 0.06, 0.22];
}

function woodLight([x, y]: Point): Light {
  const grain = Math.sin(0.35 * x + 2 * Math.sin(0.02 * y) + Math.sin(0.11 * x)) + 0.5 * Math.sin(1.3 * x + 0.05 * y);
  return times([0.42, 0.27, 0.15], 1 + 0.08 * grain);
}

function plus(a: Point, b: Point): Point {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}
function minus(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
function times(a: Point, s: number): Point {
  return [a[0] * s, a[1] * s, a[2] * s];
}
function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
function cross(a: Point, b: Point): Point {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
function unit(a: Point): Point {
  return times(a, 1 / Math.sqrt(dot(a, a)));
}
