import { describe, expect, it } from 'vitest';
import { evenly } from '../../../vision/container/finding-error.ts';
import { fitContainer } from '../../../vision/container/fit-container.ts';
import { narrowingBelow } from '../../../vision/container/fit-warnings.ts';
import { WALL } from '../../../vision/container/parameters.ts';
import { soundSizes } from '../../../vision/measure-photo.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { type ContainerKind, simulateScene } from '../../support/simulated-scene.ts';

function standing(kind: ContainerKind) {
  for (let seed = 1; ; seed++) {
    const scene = simulateScene(seededRandom(seed), {
      arrangement: 'standing',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const result = scene.kind === kind ? fitContainer(scene.sight, { arrangement: 'standing' }) : null;
    if (result?.ok) return result.fit;
  }
}

/** An outline that is surely right. */
const SURE = { findingSd: evenly(0), fitSdFactor: 1 };

describe('a wall that turns inwards at the base', () => {
  it.each(['can', 'tumbler', 'bottle'] as const)('is not found where it goes on straight (%s)', (kind) => {
    expect(narrowingBelow(standing(kind))).toBeLessThan(0.02);
  });

  it('leaves the base open by as much as it has turned in, and no base once that is a sixth', () => {
    const fit = standing('can');
    const turnedIn = (share: number) => {
      const { knotShares } = fit.model.frame.knots;
      const parameters = fit.solution.parameters.map((value, i) => {
        const height = knotShares[i - WALL];
        return height < 0.15 ? value * (1 - share * (1 - height / 0.15)) : value;
      });
      return { ...fit, solution: { ...fit.solution, parameters } };
    };
    expect(narrowingBelow(turnedIn(0.1))).toBeCloseTo(0.1, 2);
    const { value, sd } = soundSizes(turnedIn(0.1), SURE, true)?.measurement.baseDiameterMm ?? { value: 1, sd: 0 };
    expect(sd / value).toBeGreaterThan(0.09);
    expect(soundSizes(turnedIn(0.2), SURE, true)?.measurement.baseDiameterMm).toBeNull();
    expect(soundSizes(turnedIn(0.2), SURE, true)?.warnings.map(({ code }) => code)).toContain('base-not-visible');
  });
});
