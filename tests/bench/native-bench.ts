import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { measurePhoto } from '../../vision/measure-photo.ts';
import { loadOutlineModel, type OutlineModel } from '../../vision/network/outline-model.ts';
import type { Cv } from '../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { MatScope } from '../../vision/opencv/mat-scope.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { BENCH_SAMPLES, twelveMegapixelFile } from './twelve-megapixels.ts';

const CALLS = ['resizeToWorking', 'resizeToGlance', 'network'] as const;
type Call = (typeof CALLS)[number];
const ROUNDS = 3;
const RUNS = 7;
const WEIGHTS = 'vision/network/outline-model.onnx';
const PYTHONS = ['/usr/bin/python3', 'python3'];

/** The same calls on the same picture in our WebAssembly and in native OpenCV, in turns on one machine. */
export interface NativeBench {
  readonly nativeVersion: string;
  readonly calls: readonly { readonly call: Call; readonly oursMs: number; readonly nativeMs: number }[];
  /** A whole 12-megapixel photo: what it takes, how much of that in OpenCV, and what it would take with native OpenCV. */
  readonly whole: { readonly oursMs: number; readonly inOpenCvMs: number; readonly withNativeMs: number };
}

/** Null where no Python with OpenCV is installed (Debian: python3-opencv, and python3-onnx for the network). */
export async function benchNative(): Promise<NativeBench | null> {
  const python = PYTHONS.find(hasOpenCv);
  if (!python) return null;
  const folder = await mkdtemp(join(tmpdir(), 'roundwise-bench-'));
  try {
    const path = join(folder, 'photo.jpg');
    await writeFile(path, await twelveMegapixelFile(BENCH_SAMPLES[0]));
    const photo = await decodePhotoFile(path);
    if (!photo) throw new Error('The enlarged sample photo cannot be read.');
    const { cv } = await loadOpenCv();
    const outlineModel = loadOutlineModel(cv, await readFile(WEIGHTS));
    const ours = ourCalls(cv, outlineModel, photo);
    const leastMs = new Map<string, number>();
    const keep = (name: string, ms: number) => leastMs.set(name, Math.min(ms, leastMs.get(name) ?? ms));
    let nativeVersion = '';
    for (let round = 0; round < ROUNDS; round += 1) {
      const native = timeNative(python, path);
      nativeVersion = native.version;
      for (const call of CALLS) {
        keep(`our ${call}`, medianMs(ours[call]));
        keep(`native ${call}`, native.ms[call] ?? Number.NaN);
      }
    }
    const calls = CALLS.map((call) => ({
      call,
      oursMs: leastMs.get(`our ${call}`) ?? Number.NaN,
      nativeMs: leastMs.get(`native ${call}`) ?? Number.NaN,
    })).filter(({ nativeMs }) => Number.isFinite(nativeMs));
    return { nativeVersion, calls, whole: await wholePhoto(cv, outlineModel, photo, calls) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function hasOpenCv(python: string): boolean {
  try {
    execFileSync(python, ['-c', 'import cv2'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

function timeNative(python: string, photo: string): { version: string; ms: Partial<Record<Call, number>> } {
  const script = fileURLToPath(new URL('./native-opencv.py', import.meta.url));
  return JSON.parse(execFileSync(python, [script, photo, WEIGHTS, String(RUNS)], { encoding: 'utf8' }));
}

/** The calls as the engine makes them, apart from what it does around them. */
function ourCalls(cv: Cv, { net }: OutlineModel, photo: Photo): Record<Call, () => void> {
  const scale = 1 / Math.max(photo.widthPx, photo.heightPx);
  const working = new cv.Size(Math.round(1008 * scale * photo.widthPx), Math.round(1008 * scale * photo.heightPx));
  const side = (px: number) => Math.max(64, 16 * Math.round((320 * scale * px) / 16));
  const glance = new cv.Size(side(photo.widthPx), side(photo.heightPx));
  const full = new cv.Mat(photo.heightPx, photo.widthPx, cv.CV_8UC4);
  full.data.set(photo.rgba);
  const small = new cv.Mat();
  const rgb = new cv.Mat();
  cv.resize(full, small, glance, 0, 0, cv.INTER_AREA);
  cv.cvtColor(small, rgb, cv.COLOR_RGBA2RGB);
  return {
    resizeToWorking: () => cv.resize(full, small, working, 0, 0, cv.INTER_AREA),
    resizeToGlance: () => cv.resize(full, small, glance, 0, 0, cv.INTER_AREA),
    network() {
      using mats = new MatScope();
      const black = new cv.Scalar(0, 0, 0, 0);
      net.setInput(mats.own(cv.blobFromImage(rgb, 1 / 255, glance, black, false, false, cv.CV_32F)));
      net.forward2(mats.own(new cv.MatVector()), ['maps', 'scores']);
    },
  };
}

function medianMs(call: () => void): number {
  call();
  const took = Array.from({ length: RUNS }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  });
  return took.sort((a, b) => a - b)[RUNS >> 1];
}

async function wholePhoto(cv: Cv, outlineModel: OutlineModel, photo: Photo, calls: NativeBench['calls']) {
  const spentMs = { resize: 0, network: 0 };
  const clocked = <A extends unknown[], R>(part: keyof typeof spentMs, call: (...given: A) => R) => {
    return (...given: A): R => {
      const start = performance.now();
      const result = call(...given);
      spentMs[part] += performance.now() - start;
      return result;
    };
  };
  const { net } = outlineModel;
  const clockedCv: Cv = Object.assign(Object.create(cv), { resize: clocked('resize', cv.resize.bind(cv)) });
  const clockedNet: typeof net = Object.assign(Object.create(net), {
    forward2: clocked('network', net.forward2.bind(net)),
  });
  const engine = { cv: clockedCv, outlineModel: { ...outlineModel, cv: clockedCv, net: clockedNet } };
  const runs: { oursMs: number; inOpenCvMs: number; withNativeMs: number }[] = [];
  const speedUp = (...names: Call[]) => {
    const of = calls.filter(({ call }) => names.includes(call));
    const sum = (ms: (each: (typeof of)[number]) => number) => of.reduce((all, each) => all + ms(each), 0);
    return of.length === 0 ? 1 : sum(({ oursMs }) => oursMs) / sum(({ nativeMs }) => nativeMs);
  };
  for (let run = -1; run < RUNS; run += 1) {
    spentMs.resize = 0;
    spentMs.network = 0;
    const start = performance.now();
    await measurePhoto(engine, photo);
    const oursMs = performance.now() - start;
    const inOpenCvMs = spentMs.resize + spentMs.network;
    const nativeMs =
      spentMs.resize / speedUp('resizeToWorking', 'resizeToGlance') + spentMs.network / speedUp('network');
    if (run >= 0) runs.push({ oursMs, inOpenCvMs, withNativeMs: oursMs - inOpenCvMs + nativeMs });
  }
  return runs.sort((a, b) => a.oursMs - b.oursMs)[RUNS >> 1];
}
