import { describe, expect, it } from 'vitest';
import { refine, SCENE, sideErrors } from './refined-card.ts';
import { bankArt, card, DARK, NAVY, plain, WHITE } from './surfaces.ts';

describe('refineCard', () => {
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
});
