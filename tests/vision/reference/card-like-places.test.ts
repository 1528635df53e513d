import { describe, expect, test } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import { contains } from '../../../vision/geometry/polygon.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { cardLikePlaces, placesToCover } from '../../../vision/reference/find-card.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { withSecondCard } from '../../support/second-card.ts';
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
    const { cornersPx, outlinePx } = await sampleTruth(name);
    expect(shareOf(cornersPx, look(photo, outlinePx))).toBeGreaterThan(0.97);
  });

  test.each(WITH_ROOM)('%s: a second card elsewhere is among them', async (name) => {
    const photo = await sample(name);
    const { cornersPx, outlinePx } = await sampleTruth(name);
    const second = withSecondCard(photo, cornersPx, outlinePx);
    const places = look({ ...photo, rgba: second.rgba }, outlinePx, [cornersPx]);
    expect(shareOf(second.cornersPx, places)).toBeGreaterThan(0.97);
  });

  test.each(['tumbler-standing-on-dark-desk', 'jam-jar-lying-on-linen', 'jar-standing-on-linen'])(
    '%s: its own walls and label are not',
    async (name) => {
      const photo = await sample(name);
      const { outlinePx } = await sampleTruth(name);
      const middleOf = (place: CornersPx): ImagePoint => [mean(place.map(([x]) => x)), mean(place.map(([, y]) => y))];
      const onIt = look(photo, outlinePx).filter((place) => contains(outlinePx, middleOf(place)));
      expect(onIt).toEqual([]);
    },
  );

  test('while the container is not known, what lies on it is covered, too', () => {
    const onIt = { cornersPx: square(10, 20), logOdds: -1 };
    expect(placesToCover([onIt], null)).toEqual([onIt.cornersPx]);
    expect(placesToCover([onIt], square(0, 100))).toEqual([]);
    expect(placesToCover([{ ...onIt, logOdds: 4 }], square(0, 100))).toEqual([onIt.cornersPx]);
    expect(placesToCover([onIt], square(15, 100))).toEqual([onIt.cornersPx]);
  });
});

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function square(from: number, to: number): CornersPx {
  return [
    [from, from],
    [to, from],
    [to, to],
    [from, to],
  ];
}

async function sample(name: string): Promise<Photo> {
  const photo = await decodePhotoFile(`sample-images/${name}.jpg`);
  if (!photo) throw new Error(`${name} is no photo`);
  return photo;
}

function look(photo: Photo, outlinePx: readonly ImagePoint[], known: readonly CornersPx[] = []): CornersPx[] {
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  return placesToCover(cardLikePlaces(cv, photo, { focalPrior, reference: ID1_CARD }, known), outlinePx);
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
