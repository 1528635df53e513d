import { describe, expect, it } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { refineCard } from '../../../vision/reference/refine-card.ts';
import { drawTable, mulberry, type TableScene } from './draw-table.ts';
import { bankArt, card, DARK, NAVY, plain, WHITE, wood } from './surfaces.ts';

const SCENE: TableScene = {
  widthPx: 900,
  heightPx: 700,
  focalPx: 720,
  tiltRad: 0.5,
  rollRad: 0.2,
  distanceMm: 260,
  ground: wood(),
  things: [card(bankArt(NAVY), { yawRad: 0.4 })],
  noiseLevels: 1.5,
  seed: 3,
};

function refine(scene: TableScene, shiftPx: number) {
  const { photo, cornersPx } = drawTable(scene);
  const random = mulberry(11);
  const rough = cornersPx[0].map(([x, y]) => [
    x + shiftPx * (2 * random() - 1),
    y + shiftPx * (2 * random() - 1),
  ]) as unknown as CornersPx;
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  return { sighting: refineCard(photo, rough, { focalPrior, reference: ID1_CARD }), truth: cornersPx[0] };
}

/** Signed distance of each found side's middle from the true side, px. */
function sideErrors(found: CornersPx, truth: CornersPx): number[] {
  return found.map((a, k) => {
    const b = found[(k + 1) % 4];
    const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const distances = truth.map((p, j) => {
      const q = truth[(j + 1) % 4];
      const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
      const across = ((middle[0] - p[0]) * (q[1] - p[1]) - (middle[1] - p[1]) * (q[0] - p[0])) / length;
      const apart = Math.hypot((p[0] + q[0]) / 2 - middle[0], (p[1] + q[1]) / 2 - middle[1]);
      return { across, apart };
    });
    return distances.reduce((best, d) => (d.apart < best.apart ? d : best)).across;
  });
}

describe('refineCard', () => {
  it('moves corners placed by thumb onto the card, to a third of a pixel', () => {
    const { sighting, truth } = refine(SCENE, 4);
    for (const error of sideErrors(sighting.cornersPx, truth)) expect(Math.abs(error)).toBeLessThan(0.35);
  });

  it('gives every side an error bar that holds', () => {
    const faces = [bankArt(NAVY), plain(WHITE), plain(DARK)];
    const ratios = faces.flatMap((face, k) =>
      [0.1, 0.6, 0.95].flatMap((tiltRad) => {
        const { sighting, truth } = refine({ ...SCENE, tiltRad, seed: k, things: [card(face, { yawRad: k })] }, 3);
        return sideErrors(sighting.cornersPx, truth).map((error, side) => Math.abs(error) / sighting.sides[side].sdPx);
      }),
    );
    expect(ratios.filter((ratio) => ratio < 2).length / ratios.length).toBeGreaterThan(0.94);
    expect(Math.max(...ratios)).toBeLessThan(4);
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
