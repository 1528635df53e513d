import { describe, expect, it } from 'vitest';
import { ContainerModel } from '../../../vision/container/container-model.ts';
import { fitContainer } from '../../../vision/container/fit-container.ts';
import { LOG_HEIGHT, WALL } from '../../../vision/container/parameters.ts';
import { ARRANGEMENTS } from '../../../vision/measurement.ts';
import { ROUND_REFERENCES, type RoundReference } from '../../../vision/reference/round-reference.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

const [COIN] = ROUND_REFERENCES;

describe('the analytic Jacobian', () => {
  const cases = [
    ...ARRANGEMENTS.map((arrangement) => ({ arrangement, coin: undefined })),
    { arrangement: 'standing', coin: COIN },
    { arrangement: 'lying', coin: COIN },
  ] as const;
  for (const { arrangement, coin } of cases) {
    it(`agrees with central differences in every parameter and row (${arrangement}${coin ? ' beside a coin' : ''})`, () => {
      const { model, parameters } = fittedModel(arrangement, coin);
      const n = model.parameterCount;
      const analytic = new Float64Array(model.residualCount * n);
      const high = new Float64Array(model.residualCount);
      const low = new Float64Array(model.residualCount);
      expect(model.evaluate(parameters, new Float64Array(model.residualCount), analytic)).toBe(true);
      let disagreeing = 0;
      for (let j = 0; j < n; j++) {
        const h = 1e-5 * (j >= WALL || j === LOG_HEIGHT ? 1 : 0.1);
        const shifted = Float64Array.from(parameters);
        shifted[j] += h;
        model.evaluate(shifted, high, null);
        shifted[j] -= 2 * h;
        model.evaluate(shifted, low, null);
        for (let row = 0; row < model.residualCount; row++) {
          const numeric = (high[row] - low[row]) / (2 * h);
          const difference = Math.abs(numeric - analytic[row * n + j]);
          if (difference > 1e-3 * Math.abs(numeric) + 2e-2) disagreeing++;
        }
      }
      // a ray that passes from one piece of the profile to the next within the step has no derivative there
      expect(disagreeing / (n * model.residualCount)).toBeLessThan(0.0005);
    });
  }
});

function fittedModel(arrangement: (typeof ARRANGEMENTS)[number], coin: RoundReference | undefined) {
  const scene = simulateScene(seededRandom(42), { arrangement, focalCase: 'rounded', longSidePx: 1600, coin });
  const hand = scene.sight.outline.points.filter((_, k) => k % 25 === 0).map((point) => ({ ...point, sdPx: 4 }));
  const result = fitContainer({ ...scene.sight, hand }, { arrangement });
  if (!result.ok) throw new Error(result.reason);
  const { model, solution } = result.fit;
  // away from the solution, where residuals are not small
  const random = seededRandom(7);
  const parameters = solution.parameters.map((value, j) => value + (j >= WALL ? random.normal(0.05) : 0));
  return { model: new ContainerModel(model.seen, model.frame), parameters };
}
