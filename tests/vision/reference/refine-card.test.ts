import { describe, expect, it } from 'vitest';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { refine, SCENE, sideErrors } from './refined-card.ts';

describe('refineCard', () => {
  it('moves corners placed by thumb onto the card, to a third of a pixel', () => {
    const { sighting, truth } = refine(SCENE, 4);
    for (const error of sideErrors(sighting.cornersPx, truth)) expect(Math.abs(error)).toBeLessThan(0.35);
  });

  it('names the long sides', () => {
    const { sighting } = refine(SCENE, 2);
    const length = (k: number): number => {
      const [a, b] = [sighting.cornersPx[k], sighting.cornersPx[(k + 1) % 4]];
      return Math.hypot(b[0] - a[0], b[1] - a[1]);
    };
    expect(length(sighting.longSide)).toBeGreaterThan(length(1 - sighting.longSide));
  });

  it('starts with the top-left corner and runs clockwise as seen', () => {
    const { cornersPx: c } = refine(SCENE, 2).sighting;
    expect(c[0][0] + c[0][1]).toBe(Math.min(...c.map(([x, y]) => x + y)));
    for (let k = 0; k < 4; k++) {
      const [a, b, d] = [c[k], c[(k + 1) % 4], c[(k + 2) % 4]];
      expect((b[0] - a[0]) * (d[1] - b[1]) - (b[1] - a[1]) * (d[0] - b[0])).toBeGreaterThan(0);
    }
  });

  it('keeps edge samples off the rounded corners', () => {
    const { sighting } = refine(SCENE, 2);
    for (const [k, side] of sighting.sides.entries()) {
      for (const [x, y] of side.edgePointsPx) {
        for (const [cx, cy] of [sighting.cornersPx[k], sighting.cornersPx[(k + 1) % 4]]) {
          expect(Math.hypot(x - cx, y - cy)).toBeGreaterThan(ID1_CARD.cornerRadiusMm);
        }
      }
    }
  });
});
