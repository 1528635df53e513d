import { describe, expect, test } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import { contains, fillPolygon } from '../../../vision/geometry/polygon.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { cardLikePlaces } from '../../../vision/reference/find-card.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { sampleTruth } from '../../support/truth.ts';

const { cv } = await loadOpenCv();
const WITH_ROOM = [
  'jar-standing-on-linen',
  'steel-flask-standing-on-white-desk',
  'jam-jar-lying-on-linen',
  'tumbler-lying-on-planks',
  'can-card-leaning-on-it',
  'flask-card-held-in-front',
];
/** Too full for a second card. */
const WITHOUT_ROOM = ['tumbler-standing-on-dark-desk', 'jam-jar-standing-on-dark-desk'];

describe('every place that may be a card', () => {
  test.each([...WITH_ROOM, ...WITHOUT_ROOM])('%s: the card is among them', async (name) => {
    const photo = await sample(name);
    const { cornersPx } = await sampleTruth(name);
    expect(shareOf(cornersPx, look(photo))).toBeGreaterThan(0.97);
  });

  test.each(WITH_ROOM)('%s: a second card elsewhere is among them', async (name) => {
    const photo = await sample(name);
    const { cornersPx, outlinePx } = await sampleTruth(name);
    const second = withSecondCard(photo, cornersPx, outlinePx);
    const places = look(second.photo, [cornersPx]);
    expect(shareOf(second.cornersPx, places)).toBeGreaterThan(0.97);
  });
});

async function sample(name: string): Promise<Photo> {
  const photo = await decodePhotoFile(`sample-images/${name}.jpg`);
  if (!photo) throw new Error(`${name} is no photo`);
  return photo;
}

function look(photo: Photo, known: readonly CornersPx[] = []): CornersPx[] {
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  return cardLikePlaces(cv, photo, { focalPrior, reference: ID1_CARD }, known);
}

/** Share of a card that lies in one of the places, over a grid on it. */
function shareOf([a, b, c, d]: CornersPx, places: readonly CornersPx[]): number {
  let inside = 0;
  for (let i = 0; i < 20; i += 1) {
    for (let j = 0; j < 20; j += 1) {
      const [u, w] = [(i + 0.5) / 20, (j + 0.5) / 20];
      const at = (axis: 0 | 1) => (1 - w) * ((1 - u) * a[axis] + u * b[axis]) + w * ((1 - u) * d[axis] + u * c[axis]);
      if (places.some((place) => contains(place, [at(0), at(1)]))) inside += 1;
    }
  }
  return inside / 400;
}

/** The card's pixels, with a little of what lies about it, laid down a second time where nothing is. */
function withSecondCard(photo: Photo, cornersPx: CornersPx, outlinePx: readonly ImagePoint[]) {
  const { widthPx, heightPx } = photo;
  const patch = grown(cornersPx, 0.04);
  const mask = fillPolygon(patch, widthPx, heightPx);
  const [dx, dy] = freePlace(patch, [outlinePx, patch], photo);
  const rgba = Uint8ClampedArray.from(photo.rgba);
  for (let y = 0; y < heightPx; y += 1) {
    for (let x = 0; x < widthPx; x += 1) {
      if (!mask[y * widthPx + x]) continue;
      const from = 4 * (y * widthPx + x);
      rgba.set(photo.rgba.subarray(from, from + 4), from + 4 * (dy * widthPx + dx));
    }
  }
  const moved = cornersPx.map(([x, y]) => [x + dx, y + dy] as const) as unknown as CornersPx;
  return { photo: { ...photo, rgba }, cornersPx: moved };
}

function grown(cornersPx: CornersPx, share: number): ImagePoint[] {
  const [cx, cy] = [0, 1].map((axis) => cornersPx.reduce((sum, corner) => sum + corner[axis] / 4, 0));
  return cornersPx.map(([x, y]) => [x + share * (x - cx), y + share * (y - cy)]);
}

/** The shortest way down, up or aside on a coarse grid that is clear of all these shapes and within the photo. */
function freePlace(patch: readonly ImagePoint[], shapes: readonly (readonly ImagePoint[])[], photo: Photo) {
  const ways: [number, number][] = [];
  for (let dx = -photo.widthPx; dx <= photo.widthPx; dx += 40) {
    for (let dy = -photo.heightPx; dy <= photo.heightPx; dy += 40) ways.push([dx, dy]);
  }
  ways.sort((a, b) => Math.hypot(...a) - Math.hypot(...b));
  const [left, right] = [Math.min, Math.max].map((end) => end(...patch.map(([x]) => x)));
  const [top, bottom] = [Math.min, Math.max].map((end) => end(...patch.map(([, y]) => y)));
  const free = ways.find(([dx, dy]) => {
    const box = { left: left + dx, right: right + dx, top: top + dy, bottom: bottom + dy };
    const isInside =
      box.left > 10 && box.top > 10 && box.right < photo.widthPx - 10 && box.bottom < photo.heightPx - 10;
    const isClear = shapes.every((shape) => {
      const xs = shape.map(([x]) => x);
      const ys = shape.map(([, y]) => y);
      const apart = 20;
      return (
        Math.max(...xs) + apart < box.left ||
        Math.min(...xs) - apart > box.right ||
        Math.max(...ys) + apart < box.top ||
        Math.min(...ys) - apart > box.bottom
      );
    });
    return isInside && isClear;
  });
  if (!free) throw new Error('there is no room for a second card');
  return free;
}
