import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { lookTurned } from '../../../vision/network/look-any-way-up.ts';
import { bodyInMirror } from '../../../vision/network/look-mirrored.ts';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { maskAt } from '../../../vision/outline/mask-shape.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';

const { cv } = await loadOpenCv();
const model = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
const look = lookTurned(model, 0);

/** The right half of the photo's content and of its width alone: what stands there is far from the middle of the picture. */
function rightPart({ widthPx, heightPx, rgba, lens }: Photo, share: number): Photo {
  const kept = Math.round(share * widthPx);
  const part = new Uint8ClampedArray(4 * kept * heightPx);
  for (let y = 0; y < heightPx; y++)
    part.set(rgba.subarray(4 * (y * widthPx + widthPx - kept), 4 * (y + 1) * widthPx), 4 * y * kept);
  return { widthPx: kept, heightPx, rgba: part, lens };
}

describe('bodyInMirror', () => {
  it.each([1, 0.75])('sees the container where it is, the picture cut to %d of its width', async (share) => {
    const whole = await decodePhotoFile('sample-images/tumbler-standing-on-dark-desk.jpg');
    if (!whole) throw new Error('no sample');
    const photo = rightPart(whole, share);
    const straight = look(photo).bodyMask;
    const inMirror = bodyInMirror(cv, look, photo, undefined);
    let [both, either] = [0, 0];
    for (let y = 0; y < photo.heightPx; y += 12)
      for (let x = 0; x < photo.widthPx; x += 12) {
        const [a, b] = [maskAt(straight, [x, y]) > 0.5, maskAt(inMirror, [x, y]) > 0.5];
        if (a && b) both++;
        if (a || b) either++;
      }
    expect(either).toBeGreaterThan(500);
    expect(both / either).toBeGreaterThan(0.95);
  });
});
