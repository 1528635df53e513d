import '../../vision/opencv/symbol-dispose.ts';
import { expose } from 'comlink';
import { measurePhoto } from '../../vision/measure-photo.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../vision/photo.ts';
import { decodePhoto } from './decode-photo.ts';
import type { VisionWorkerApi } from './worker-api.ts';

let photo: Photo | null = null;

const api: VisionWorkerApi = {
  async warmUp() {
    await loadOpenCv();
  },
  async open(file) {
    photo = null;
    const decoded = await decodePhoto(file);
    if (!decoded.ok) return decoded;
    photo = decoded.photo;
    const { widthPx, heightPx, lens } = decoded.photo;
    return { ok: true, facts: { widthPx, heightPx, lens }, display: decoded.display };
  },
  async openWithoutPixels(facts) {
    photo = { ...facts, rgba: new Uint8ClampedArray(0) };
  },
  async measure(options, onStage) {
    if (!photo) throw new Error('No photo is open.');
    const { cv } = await loadOpenCv();
    return measurePhoto(cv, photo, options, onStage);
  },
  async snapCorners(cornersPx) {
    return cornersPx;
  },
};

expose(api);
