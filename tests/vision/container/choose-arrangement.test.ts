import { describe, expect, it } from 'vitest';
import { chooseArrangement } from '../../../vision/container/choose-arrangement.ts';
import { sizesApart } from '../../../vision/container/container-sizes.ts';
import { fitContainer, type PhotoSight } from '../../../vision/container/fit-container.ts';
import { ARRANGEMENTS } from '../../../vision/measurement.ts';
import { ROUND_REFERENCES } from '../../../vision/reference/round-reference.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

describe('chooseArrangement', () => {
  for (const arrangement of ARRANGEMENTS) {
    it(`tells ${arrangement} from the other ways of laying the card`, () => {
      let right = 0;
      for (const seed of [2, 9, 16]) {
        const { sight } = simulateScene(seededRandom(seed), { arrangement, focalCase: 'rounded', longSidePx: 1600 });
        const choice = chooseArrangement(allFits(sight));
        // a wrong pick must at least not be called certain
        if (choice?.fit.arrangement === arrangement) right++;
        else expect(choice?.certain).toBe(false);
      }
      expect(right).toBeGreaterThanOrEqual(2);
    });
  }

  it('decides between card-on-front and lying by where the card is, not by which fits better', () => {
    const { sight } = simulateScene(seededRandom(9), {
      arrangement: 'card-on-front',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const fits = allFits(sight).map((fit) => (fit.arrangement === 'lying' ? { ...fit, cost: 0 } : fit));
    expect(chooseArrangement(fits)?.fit.arrangement).not.toBe('lying');
  });

  it('leaves open whether a container beside a coin stands or lies when both fit and the sizes differ', () => {
    const { sight } = simulateScene(seededRandom(720008), {
      arrangement: 'standing',
      focalCase: 'unknown',
      longSidePx: 4032,
      coin: ROUND_REFERENCES[0],
      turnDeg: 240,
    });
    expect(chooseArrangement(allFits(sight))?.isOpen).toBe(true);
    const told = fitContainer(sight, { arrangement: 'standing' });
    expect(chooseArrangement(told.ok ? [told.fit] : [])?.isOpen).toBe(false);
  });

  it('lets what was likely beforehand decide between ways that fit alike, and the other widen the sizes by its odds', () => {
    const { sight } = simulateScene(seededRandom(51007), {
      arrangement: 'card-leaning',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const alike = allFits(sight)
      .filter(({ arrangement }) => arrangement === 'card-on-front' || arrangement === 'card-leaning')
      .map((fit) => ({ ...fit, cost: 100 }));
    const choice = chooseArrangement(alike, (arrangement) => (arrangement === 'card-on-front' ? 0.8 : 0.2));
    expect(choice?.fit.arrangement).toBe('card-on-front');
    const [front, leaning] = alike;
    // a chance of a fifth to be that far off
    expect(choice?.relativeSd).toBeCloseTo(Math.sqrt(0.2) * sizesApart(front, leaning), 6);
    expect(sizesApart(front, leaning)).toBeGreaterThan(0.2);
    expect(choice?.certain).toBe(false);
  });

  it('has nothing to choose from when nothing fits', () => {
    expect(chooseArrangement([])).toBeNull();
  });
});

function allFits(sight: PhotoSight) {
  return ARRANGEMENTS.flatMap((arrangement) => {
    const result = fitContainer(sight, { arrangement });
    // what explains the photo but shows no base is evidence of how the card lies, too
    const fit = result.ok ? result.fit : result.unusable;
    return fit ? [fit] : [];
  });
}
