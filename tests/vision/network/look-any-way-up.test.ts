import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import type { CoarseSighting } from '../../../vision/network/coarse-sighting.ts';
import { lookAnyWayUp, lookTurned } from '../../../vision/network/look-any-way-up.ts';
import { loadOutlineModel, type OutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { maskAt } from '../../../vision/outline/mask-shape.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';

let model: OutlineModel;
let upright: Photo;
let asTaken: CoarseSighting;

beforeAll(async () => {
  const { cv } = await loadOpenCv();
  model = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
  const photo = await decodePhotoFile('sample-images/tumbler-standing-on-dark-desk.jpg');
  if (!photo) throw new Error('no sample');
  upright = photo;
  asTaken = lookTurned(model, 0)(photo);
});

/** Clockwise: pixel (x, y) goes to (height − 1 − y, x). */
function turnedOnce({ widthPx, heightPx, rgba, lens }: Photo): Photo {
  const turned = new Uint8ClampedArray(rgba.length);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const from = 4 * (y * widthPx + x);
      turned.set(rgba.subarray(from, from + 4), 4 * (x * heightPx + heightPx - 1 - y));
    }
  return { widthPx: heightPx, heightPx: widthPx, rgba: turned, lens };
}

describe('lookAnyWayUp', () => {
  it.each([1, 2, 3])(
    'sees a picture turned by %i quarters as it sees it upright, in the pixels it was given',
    (quarters) => {
      let photo = upright;
      let place = ([x, y]: readonly [number, number]): readonly [number, number] => [x, y];
      for (let k = 0; k < quarters; k++) {
        const { heightPx } = photo;
        const before = place;
        place = (at) => {
          const [x, y] = before(at);
          return [heightPx - 1 - y, x];
        };
        photo = turnedOnce(photo);
      }
      const { seen } = lookAnyWayUp(model, photo);
      // lying is for the fit to rule out
      expect(seen.arrangementScores.standing).toBeGreaterThan(0.3);
      const cellPx = asTaken.bodyMask.pxPerCell[0];
      const [x, y] = place(asTaken.axisPx.base.atPx);
      expect(Math.hypot(seen.axisPx.base.atPx[0] - x, seen.axisPx.base.atPx[1] - y)).toBeLessThan(cellPx);
      let [both, either] = [0, 0];
      for (let row = 0; row < upright.heightPx; row += 12) {
        for (let column = 0; column < upright.widthPx; column += 12) {
          const a = maskAt(asTaken.bodyMask, [column, row]) > 0.5;
          const b = maskAt(seen.bodyMask, place([column, row])) > 0.5;
          if (a && b) both++;
          if (a || b) either++;
        }
      }
      expect(both / either).toBeGreaterThan(0.97);
    },
  );

  it('looks once at a picture that is plainly upright', () => {
    expect(lookAnyWayUp(model, upright).seen.bodyMask.widthCells).toBe(asTaken.bodyMask.widthCells);
  });
});
