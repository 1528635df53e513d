import { describe, expect, it } from 'vitest';
import { evenly, spanningBoth } from '../../../vision/container/finding-error.ts';
import { fitContainer } from '../../../vision/container/fit-container.ts';
import { estimate } from '../../../vision/estimate.ts';
import { soundSizes } from '../../../vision/measure-photo.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

/** The first tumblers that lie, by seed. */
function lyingTumblers(count: number) {
  const scenes = [];
  for (let seed = 1; scenes.length < count; seed++) {
    const scene = simulateScene(seededRandom(seed), { arrangement: 'lying', focalCase: 'rounded', longSidePx: 1600 });
    if (scene.kind === 'tumbler') scenes.push(scene);
  }
  return scenes;
}

/** An outline that is surely right. */
const SURE = { findingSd: evenly(0), fitSdFactor: 1 };

describe('a tumbler that lies', () => {
  it('has a base interval that holds either end until somebody says which is the base', () => {
    for (const { sight, baseDiameterMm, topDiameterMm } of lyingTumblers(3)) {
      const result = fitContainer(sight, { arrangement: 'lying' });
      if (!result.ok) throw new Error(result.reason);
      const open = soundSizes(result.fit, SURE, false);
      expect(open?.warnings.map(({ code }) => code)).toContain('which-end-is-base');
      const base = open?.measurement.baseDiameterMm;
      // ends that differ by over 30 % leave no base worth a number
      if (base) {
        expect(base.low95).toBeLessThan(Math.min(baseDiameterMm, topDiameterMm) * 1.02);
        expect(base.high95).toBeGreaterThan(Math.max(baseDiameterMm, topDiameterMm) * 0.98);
      }
      const told = soundSizes(result.fit, SURE, true);
      expect(told?.warnings).toEqual([]);
      const { low95, high95 } = told?.measurement.baseDiameterMm ?? { low95: 0, high95: 1e9 };
      expect(high95 - low95).toBeLessThan(0.5 * Math.abs(topDiameterMm - baseDiameterMm));
    }
  });

  it('spans two estimates from the lower end of one to the upper end of the other', () => {
    const both = spanningBoth(estimate(60, 1), estimate(80, 2));
    expect(both.value).toBe(60);
    expect(both.low95).toBeCloseTo(60 - 1.96, 2);
    expect(both.high95).toBeCloseTo(80 + 3.92, 2);
  });
});
