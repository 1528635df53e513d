import { describe, expect, it } from 'vitest';
import { containerSizes } from '../../../vision/container/container-sizes.ts';
import { type ContainerFit, fitContainer } from '../../../vision/container/fit-container.ts';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import { multivariateNormal } from '../../../vision/geometry/normal-draws.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

function fitOf(seed: number): ContainerFit {
  const scene = simulateScene(seededRandom(seed), { arrangement: 'standing', focalCase: 'rounded', longSidePx: 1600 });
  const result = fitContainer(scene.sight, { arrangement: 'standing' });
  if (!result.ok) throw new Error(result.reason);
  return result.fit;
}

describe('sizeEstimate', () => {
  it('gives the same interval every time', () => {
    const fit = fitOf(5);
    expect(sizeEstimate({ ...fit }, 'maxDiameterMm')).toEqual(sizeEstimate(fit, 'maxDiameterMm'));
  });

  // JCGM 101:2008: the scatter of the output over draws of the inputs is its standard uncertainty
  it('has the widest diameter no less certain than its scatter over other draws of the same posterior', () => {
    for (const seed of [5, 9, 12]) {
      const fit = fitOf(seed);
      const { model, solution, covariance } = fit;
      const widest = multivariateNormal(solution.parameters, covariance, 1500, 7).map(
        (parameters) => containerSizes(model, parameters)?.maxDiameterMm ?? Number.NaN,
      );
      const mean = widest.reduce((sum, one) => sum + one, 0) / widest.length;
      const sd = Math.sqrt(widest.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (widest.length - 1));
      expect(sizeEstimate({ ...fit, rivals: [] }, 'maxDiameterMm').sd / sd).toBeGreaterThan(0.88);
      expect(sizeEstimate({ ...fit, rivals: [] }, 'maxDiameterMm').sd / sd).toBeLessThan(1.12);
    }
  });
});
