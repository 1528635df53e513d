import '../../../vision/opencv/symbol-dispose.ts';
import { expose } from 'comlink';
import type { ContainerFit } from '../../../vision/container/fit-container.ts';
import { measureWork } from '../../../vision/flat-piece/measure-work.ts';
import { type Engine, type Measured, measureAndFit } from '../../../vision/measure-photo.ts';
import { measureSameContainer } from '../../../vision/measure-same-container.ts';
import weightsUrl from '../../../vision/network/outline-model.onnx?url';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { snapOutline } from '../../../vision/outline/snap-outline.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { decodePhoto } from './decode-photo.ts';
import type { VisionWorkerApi } from './worker-api.ts';

let photo: Photo | null = null;
/** How the open photo was last explained; a moving hand is followed from there. */
let fit: ContainerFit | null = null;
let loading: Promise<Engine> | null = null;

/** OpenCV and the outline network, fetched side by side; without the network the engine still works. */
function loadEngine(): Promise<Engine> {
  loading ??= Promise.all([loadOpenCv(), fetchWeights()]).then(([{ cv }, weights]) => ({
    cv,
    outlineModel: weights && loadOutlineModel(cv, weights),
  }));
  return loading;
}

async function fetchWeights(): Promise<Uint8Array | null> {
  try {
    const response = await fetch(weightsUrl);
    return response.ok ? new Uint8Array(await response.arrayBuffer()) : null;
  } catch {
    return null;
  }
}

const api: VisionWorkerApi = {
  async warmUp() {
    await loadEngine();
  },
  async open(file) {
    photo = null;
    fit = null;
    const decoded = await decodePhoto(file);
    if (!decoded.ok) return decoded;
    photo = decoded.photo;
    const { widthPx, heightPx, lens } = decoded.photo;
    return { ok: true, facts: { widthPx, heightPx, lens }, display: decoded.display };
  },
  async openWithoutPixels(facts) {
    photo = { ...facts, rgba: new Uint8ClampedArray(0) };
    fit = null;
  },
  async measure(options, onStage) {
    if (!photo) throw new Error('No photo is open.');
    const measured = measureAndFit(await loadEngine(), photo, options, onStage);
    fit = measured.fit;
    return measured.result;
  },
  async measureTogether(photos) {
    photo = null;
    fit = null;
    const engine = await loadEngine();
    const measured: Measured[] = [];
    for (const { file, options } of photos) {
      const decoded = await decodePhoto(file);
      if (decoded.ok) measured.push(measureAndFit(engine, decoded.photo, options, () => {}));
    }
    return measureSameContainer(measured)?.measurement ?? null;
  },
  async snapOutline(outlinePx, reachPx) {
    if (!photo) throw new Error('No photo is open.');
    const { points } = snapOutline((await loadEngine()).cv, photo, outlinePx, { reachPx });
    // What saw no clear edge stayed where the hand put it, uncertain by half the reach: the edge bridges it.
    return points.filter(({ sdPx }) => sdPx < reachPx / 2).map(({ xPx, yPx }) => [xPx, yPx] as const);
  },
  async follow(options) {
    if (!photo) throw new Error('No photo is open.');
    const measured = measureAndFit(await loadEngine(), photo, options, () => {}, fit);
    fit = measured.fit ?? fit;
    return measured.result;
  },
  async measureWork(piece, options, onStage) {
    if (!photo) throw new Error('No photo is open.');
    return measureWork(await loadEngine(), photo, piece, options, onStage);
  },
};

expose(api);
