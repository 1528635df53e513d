import { describe, expect, it } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { cardInPhoto, type LookForCard } from '../../../vision/reference/card-in-photo.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { cv, TABLE } from './card-on-table.ts';
import { drawTable } from './draw-table.ts';
import { card, plain } from './surfaces.ts';

/** A card hardly brighter than what it lies on, in the noise of a dim room. */
const { photo, cornersPx } = drawTable({
  ...TABLE,
  ground: plain([0.2, 0.2, 0.2]),
  noiseLevels: 8,
  things: [card(plain([0.23, 0.23, 0.23]), { yawRad: 0.3, xMm: 20, edge: [0.23, 0.23, 0.23] })],
});
const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
const found = (look?: LookForCard) => cardInPhoto(cv, photo, { focalPrior, reference: ID1_CARD }, look);
const middleOf = (corners: CornersPx) => [0, 1].map((axis) => corners.reduce((sum, at) => sum + at[axis] / 4, 0));

describe('a rectangle that is not surely the card', () => {
  it('is none as long as nobody looks closer', () => {
    expect(found()).toEqual({ problem: 'no-card' });
  });

  it('is the card where a closer look sees its corners', () => {
    const looked: CornersPx[] = [];
    const choice = found((rectanglePx) => {
      looked.push(rectanglePx);
      const [a, b] = [middleOf(rectanglePx), middleOf(cornersPx[0])];
      return Math.hypot(a[0] - b[0], a[1] - b[1]) < 100 ? cornersPx[0] : null;
    });
    expect(looked.length).toBeLessThanOrEqual(3);
    expect(choice).toMatchObject({ card: { cornersPx: expect.anything() } });
    if ('card' in choice) {
      const [x, y] = middleOf(choice.card.cornersPx);
      expect(Math.hypot(x - middleOf(cornersPx[0])[0], y - middleOf(cornersPx[0])[1])).toBeLessThan(3);
    }
  });

  it('stays none where the closer look sees none', () => {
    expect(found(() => null)).toEqual({ problem: 'no-card' });
  });
});
