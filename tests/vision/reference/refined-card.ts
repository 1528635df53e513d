import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { refineCard } from '../../../vision/reference/refine-card.ts';
import { type DrawnTable, drawTable, mulberry, type TableScene } from './draw-table.ts';
import { bankArt, card, NAVY, wood } from './surfaces.ts';

export const SCENE: TableScene = {
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

const drawn = new Map<TableScene, DrawnTable>();

/** The card found from rough corners; the scene is drawn once. */
export function refine(scene: TableScene, shiftPx: number) {
  const table = drawn.get(scene) ?? drawTable(scene);
  drawn.set(scene, table);
  const { photo, cornersPx } = table;
  const random = mulberry(11);
  const rough = cornersPx[0].map(([x, y]) => [
    x + shiftPx * (2 * random() - 1),
    y + shiftPx * (2 * random() - 1),
  ]) as unknown as CornersPx;
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  return { sighting: refineCard(photo, rough, { focalPrior, reference: ID1_CARD }), truth: cornersPx[0] };
}

/** Signed distance of each found side's middle from the true side, px. */
export function sideErrors(found: CornersPx, truth: CornersPx): number[] {
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
