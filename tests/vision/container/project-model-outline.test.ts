import { describe, expect, it } from 'vitest';
import { projectSolidOutline } from '../../../vision/container/project-model-outline.ts';
import { signedDistance } from '../../../vision/geometry/polygon.ts';
import { ARRANGEMENTS } from '../../../vision/measurement.ts';
import { rayTracedOutline } from '../../support/ray-traced-outline.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

describe('projectSolidOutline', () => {
  it.each(ARRANGEMENTS)('draws what rays traced one by one meet, to a twentieth of a pixel (%s)', (arrangement) => {
    for (const seed of [2, 9]) {
      const { profile, view } = simulateScene(seededRandom(seed), {
        arrangement,
        focalCase: 'exact',
        longSidePx: 1600,
      });
      const drawn = projectSolidOutline(profile, view, 0.5).map(({ xPx, yPx }) => [xPx, yPx] as const);
      const traced = rayTracedOutline(profile, view, 6);
      expect(traced.length).toBeGreaterThan(100);
      const off = traced.map(({ xPx, yPx }) => Math.abs(signedDistance(drawn, [xPx, yPx]))).sort((a, b) => a - b);
      // a corner where one part hides another is cut by the spacing of either line
      expect(off[Math.floor(0.97 * off.length)]).toBeLessThan(0.05);
    }
  });

  it('has normals that point out of the container, as the traced ones do', () => {
    const { profile, view } = simulateScene(seededRandom(4), {
      arrangement: 'standing',
      focalCase: 'exact',
      longSidePx: 1600,
    });
    const drawn = projectSolidOutline(profile, view, 6).map(({ xPx, yPx }) => [xPx, yPx] as const);
    for (const { xPx, yPx, normalX, normalY } of rayTracedOutline(profile, view, 20))
      expect(signedDistance(drawn, [xPx + 5 * normalX, yPx + 5 * normalY])).toBeGreaterThan(0);
  });
});
