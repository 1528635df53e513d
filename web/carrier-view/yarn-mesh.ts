import {
  BufferAttribute,
  DataTexture,
  InstancedBufferAttribute,
  InstancedBufferGeometry,
  LinearFilter,
  LinearMipmapLinearFilter,
  RepeatWrapping,
  RGBAFormat,
} from 'three';
import type { CarrierGeometry, YarnPiece } from '../../sizing/draw/carrier-geometry.ts';
import { type ShapePoint, smoothRun, YARN_SHAPES, type YarnShape } from '../../sizing/draw/yarn-shapes.ts';

/** How finely strands are drawn: steps along a run of yarn for each of its points, and vertices across it. */
export interface Detail {
  readonly stepsPerPoint: number;
  readonly across: number;
}
export const FINE: Detail = { stepsPerPoint: 3, across: 4 };
const USUAL: Detail = { stepsPerPoint: 1.6, across: 3 };
const USUAL_LARGE: Detail = { stepsPerPoint: 1, across: 2 };
/** For what moves under the hand. */
export const COARSE: Detail = { stepsPerPoint: 0.75, across: 2 };
/** The same for large works, whose stitches are a few pixels wide. */
export const SPARSE: Detail = { stepsPerPoint: 0.4, across: 2 };
const LARGE_WORK = 2500;

/** For what stands still on the screen. */
export function restingDetail({ stitches }: CarrierGeometry): Detail {
  return stitches.length > LARGE_WORK ? USUAL_LARGE : USUAL;
}

export function movingDetail({ stitches }: CarrierGeometry): Detail {
  return stitches.length > LARGE_WORK ? SPARSE : COARSE;
}

/** Stitch height over yarn thickness that shapes are shaded for, and stitch width: of a single crochet. */
const UP_IN_YARN = 3;
const ALONG_IN_YARN = 3.3;
const LIES_ALONG: readonly YarnShape[] = ['chain', 'head', 'slip', 'cord'];

/** Where all pieces of one shape are: iOrigin, iAlong, iUp and iOut. */
export interface YarnInstances {
  readonly shape: YarnShape;
  readonly count: number;
  readonly attributes: Readonly<Record<string, InstancedBufferAttribute>>;
}

/** The carrier's pieces sorted by shape, as the graphics card takes them. */
export function yarnInstances(carrier: CarrierGeometry): YarnInstances[] {
  const pieces = new Map<YarnShape, YarnPiece[]>();
  for (const stitch of carrier.stitches) {
    for (const piece of stitch.pieces) {
      const alike = pieces.get(piece.shape);
      if (alike) alike.push(piece);
      else pieces.set(piece.shape, [piece]);
    }
  }
  return [...pieces].map(([shape, alike]) => {
    const attribute = (key: 'origin' | 'along' | 'up' | 'out') => {
      const values = new Float32Array(3 * alike.length);
      alike.forEach((piece, k) => {
        values.set(piece[key], 3 * k);
      });
      return new InstancedBufferAttribute(values, 3);
    };
    const attributes = {
      iOrigin: attribute('origin'),
      iAlong: attribute('along'),
      iUp: attribute('up'),
      iOut: attribute('out'),
    };
    return { shape, count: alike.length, attributes };
  });
}

/** All pieces of a shape, as finely as asked. The caller disposes of it. */
export function yarnMesh({ shape: name, count, attributes }: YarnInstances, detail: Detail): InstancedBufferGeometry {
  const mesh = new InstancedBufferGeometry();
  const shape = shapeOf(name, detail);
  mesh.setAttribute('aCurve', new BufferAttribute(shape.curve, 3));
  mesh.setAttribute('aTangent', new BufferAttribute(shape.tangent, 3));
  mesh.setAttribute('aStrand', new BufferAttribute(shape.strand, 3));
  mesh.setIndex(new BufferAttribute(shape.index, 1));
  for (const [key, attribute] of Object.entries(attributes)) mesh.setAttribute(key, attribute);
  mesh.instanceCount = count;
  return mesh;
}

interface ShapeArrays {
  readonly curve: Float32Array;
  readonly tangent: Float32Array;
  readonly strand: Float32Array;
  readonly index: Uint16Array;
}

const made = new Map<string, ShapeArrays>();

function shapeOf(name: YarnShape, detail: Detail): ShapeArrays {
  const key = `${name} ${detail.stepsPerPoint} ${detail.across}`;
  const before = made.get(key);
  if (before) return before;
  const { across } = detail;
  const runs = YARN_SHAPES[name].map((run) => smoothRun(run, Math.ceil((run.length - 1) * detail.stepsPerPoint)));
  const rings = runs.reduce((sum, run) => sum + run.length, 0);
  const shape: ShapeArrays = {
    curve: new Float32Array(3 * rings * across),
    tangent: new Float32Array(3 * rings * across),
    strand: new Float32Array(3 * rings * across),
    index: new Uint16Array(6 * (rings - runs.length) * (across - 1)),
  };
  const light = lightAlong(name);
  let vertex = 0;
  let corner = 0;
  for (const run of runs) {
    let lengthSoFar = 0;
    run.forEach((point, k) => {
      const before = run[Math.max(0, k - 1)];
      const after = run[Math.min(run.length - 1, k + 1)];
      lengthSoFar += k === 0 ? 0 : sizeInYarn(name, minus(point, before));
      for (let c = 0; c < across; c++) {
        shape.curve.set(point, 3 * vertex);
        shape.tangent.set(minus(after, before), 3 * vertex);
        shape.strand.set([lengthSoFar, acrossAt(c, across), light(point)], 3 * vertex);
        if (k > 0 && c > 0) {
          const [a, b] = [vertex - across - 1, vertex - across];
          shape.index.set([a, b, vertex - 1, b, vertex, vertex - 1], corner);
          corner += 6;
        }
        vertex++;
      }
    });
  }
  made.set(key, shape);
  return shape;
}

/** Evenly round the half of the strand that is seen. */
function acrossAt(c: number, across: number): number {
  return -Math.cos((Math.PI * c) / (across - 1));
}

/**
 * How much light reaches a point of a shape past the other strands of it and of its neighbours: each little ball of yarn near
 * by takes away the part of the sky it covers, r² / d².
 */
function lightAlong(name: YarnShape): (point: ShapePoint) => number {
  const alongside = name === 'ring' ? [0] : [-1, 0, 1];
  const balls = alongside.flatMap((shift) =>
    YARN_SHAPES[name].flatMap((run) => smoothRun(run, 10).map(([a, u, o]) => inYarn(name, [a + shift, u, o] as const))),
  );
  return (point) => {
    const at = inYarn(name, point);
    let covered = 0;
    for (const ball of balls) {
      const [x, y, z] = minus(ball, at);
      const squared = x * x + y * y + z * z;
      // the strand itself is no shade, and what lies behind gives none to the side that is seen
      if (squared < 0.5 || z < -0.2) continue;
      covered += (0.25 / squared) * (0.35 + 0.65 * Math.max(0, z / Math.sqrt(squared)));
    }
    return Math.max(0.3, 1 - 0.16 * covered);
  };
}

function inYarn(name: YarnShape, [a, u, o]: ShapePoint): ShapePoint {
  return [a * ALONG_IN_YARN, LIES_ALONG.includes(name) ? u : u * UP_IN_YARN, o];
}

function sizeInYarn(name: YarnShape, step: ShapePoint): number {
  return Math.hypot(...inYarn(name, step));
}

function minus(a: ShapePoint, b: ShapePoint): ShapePoint {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

/**
 * The twist of plied yarn as a normal map that repeats: one ply across. Red and green hold the slope, blue how deep the groove
 * is, alpha the unevenness of the fibres.
 */
export function twistTexture(): DataTexture {
  const size = 64;
  const pixels = new Uint8Array(4 * size * size);
  let seed = 7;
  const random = () => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  const streak = Array.from({ length: size }, () => random());
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const u = x / size;
      const height = Math.abs(Math.sin(Math.PI * u)) ** 0.6;
      const slope = Math.cos(Math.PI * u) * (1 - 0.35 * height);
      const fibre = streak[(x + ((y * 5) >> 2)) % size] * 0.6 + random() * 0.4 - 0.5;
      const at = 4 * (y * size + x);
      pixels[at] = 127.5 + 100 * slope + 44 * fibre * height;
      pixels[at + 1] = 127.5 - 52 * slope + 26 * fibre;
      pixels[at + 2] = 255 * Math.min(1, 0.1 + height);
      pixels[at + 3] = 127.5 + 150 * fibre;
    }
  }
  const texture = new DataTexture(pixels, size, size, RGBAFormat);
  texture.wrapS = RepeatWrapping;
  texture.wrapT = RepeatWrapping;
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearMipmapLinearFilter;
  texture.generateMipmaps = true;
  texture.needsUpdate = true;
  return texture;
}
