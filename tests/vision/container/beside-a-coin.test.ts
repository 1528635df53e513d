import { describe, expect, it } from 'vitest';
import { fitContainer } from '../../../vision/container/fit-container.ts';
import { fitWarnings } from '../../../vision/container/fit-warnings.ts';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import { projectPoint } from '../../../vision/geometry/camera-ray.ts';
import { circlePoses } from '../../../vision/geometry/circle-pose.ts';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { add, dot, multiply, rotationFromVector, type Vector3 } from '../../../vision/geometry/linear3.ts';
import { ROUND_REFERENCES, type RoundReference } from '../../../vision/reference/round-reference.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { type SceneChoice, simulateScene } from '../../support/simulated-scene.ts';

const [COIN] = ROUND_REFERENCES;
const DISC = ROUND_REFERENCES.find(({ name }) => name === 'optical disc') as RoundReference;

function scene(seed: number, choice: Partial<SceneChoice>) {
  const plain = { arrangement: 'standing', focalCase: 'rounded', longSidePx: 1600, coin: COIN } as const;
  return simulateScene(seededRandom(seed), { ...plain, ...choice });
}

describe('a container beside a coin or disc', () => {
  for (const arrangement of ['standing', 'lying'] as const) {
    for (const coin of [COIN, DISC]) {
      it(`is measured to 1 % from exact observations, ${arrangement} beside a ${coin.name}`, () => {
        for (const seed of [3, 8, 20]) {
          const { sight, ...truth } = scene(seed, { arrangement, coin, exact: true });
          const result = fitContainer(sight, { arrangement });
          if (!result.ok) throw new Error(result.reason);
          for (const size of ['maxDiameterMm', 'heightMm'] as const) {
            const { value, low95, high95 } = sizeEstimate(result.fit, size);
            expect(Math.abs(value / truth[size] - 1)).toBeLessThan(0.01);
            expect(low95).toBeLessThan(truth[size]);
            expect(high95).toBeGreaterThan(truth[size]);
          }
        }
      });
    }
  }

  it('has wider error bars than beside a card', () => {
    const sds = [undefined, COIN].map((coin) => {
      const result = fitContainer(scene(5, { coin }).sight, { arrangement: 'standing' });
      return result.ok ? sizeEstimate(result.fit, 'maxDiameterMm').sd : Number.NaN;
    });
    expect(sds[1]).toBeGreaterThan(1.2 * sds[0]);
  });

  it('has intervals that span both poses of the coin, and says so, where a turned picture fits both', () => {
    const seed = 700_031;
    const { sight, heightMm } = scene(seed, { arrangement: 'lying', turnDeg: 210 });
    const result = fitContainer(sight, { arrangement: 'lying' });
    if (!result.ok) throw new Error(result.reason);
    const { value, low95, high95 } = sizeEstimate(result.fit, 'heightMm');
    expect(Math.abs(value / heightMm - 1)).toBeGreaterThan(0.1);
    expect(low95).toBeLessThan(heightMm);
    expect(high95).toBeGreaterThan(heightMm);
    expect(fitWarnings(result.fit).map(({ code }) => code)).toContain('round-seen-two-ways');
  });

  it('weighs a rival on the outline at hand, not by what it cost on an earlier one', () => {
    const { sight } = scene(700_031, { arrangement: 'lying', turnDeg: 210 });
    const points = sight.outline.points.filter((_, k) => k % 3 === 0);
    const thinned = { ...sight, outline: { ...sight.outline, points } };
    const first = fitContainer(thinned, { arrangement: 'lying' });
    const again = first.ok ? fitContainer(sight, { arrangement: 'lying', start: first.fit }) : null;
    if (!first.ok || !again?.ok) throw new Error('no fit');
    expect(first.fit.rivals.length).toBeGreaterThan(0);
    expect(again.fit.rivals.length).toBeGreaterThan(0);

    expect(again.fit.rivals[0].model.seen.outline.length).toBe(again.fit.model.seen.outline.length);
  });

  it('says that the coin lies too far away or is too small, rather than nothing', () => {
    const { sight } = scene(5, {});
    const far = fitContainer(sight, { arrangement: 'standing' });
    expect(far.ok && fitWarnings(far.fit).map(({ code }) => code)).not.toContain('round-far-away');
    const shrunk = scene(5, { coin: { ...COIN, diameterMm: 6, thicknessMm: 0.5 } }).sight;
    expect(fitContainer(shrunk, { arrangement: 'standing' })).toEqual({ ok: false, reason: 'round-too-small' });
  });

  it('needs the coin to lie on the table: it is held to no front and leans on nothing', () => {
    const { sight } = scene(5, {});
    for (const arrangement of ['card-on-front', 'card-leaning'] as const) {
      expect(fitContainer(sight, { arrangement })).toEqual({ ok: false, reason: 'round-not-on-table' });
    }
  });
});

describe('poses of a circle', () => {
  const camera = { focalPx: 1500, centreXPx: 800, centreYPx: 600, k1: 0 };

  /** Facing the camera, then leant back, at the edge of the picture. */
  function seen(leanRad: number): { readonly normal: Vector3; readonly rimPx: readonly ImagePoint[] } {
    const rotation = rotationFromVector([-leanRad, 0.1, 0]);
    const rimPx = Array.from({ length: 40 }, (_, k): ImagePoint => {
      const turn = (2 * Math.PI * k) / 40;
      const at = multiply(rotation, [13 * Math.cos(turn), 13 * Math.sin(turn), 0]);
      return projectPoint(camera, ...add(at, [150, 120, 420]));
    });
    return { normal: multiply(rotation, [0, 0, -1]), rimPx };
  }

  it.each([0.3, 0.6, 1])('has the far side up first and is right to half a degree, leant back by %s rad', (leanRad) => {
    const { normal, rimPx } = seen(leanRad);
    const poses = circlePoses(rimPx, 13, camera);
    const found = multiply(poses[0].rotation, [0, 0, 1]);
    expect(Math.acos(dot(found, normal))).toBeLessThan(0.5 * (Math.PI / 180));
    expect(poses[0].translationMm[2]).toBeCloseTo(420, -1);
    expect(poses).toHaveLength(2);
  });

  it('does not exist for points on a line', () => {
    const line = Array.from({ length: 12 }, (_, k): ImagePoint => [100 + 5 * k, 200 + k]);
    expect(circlePoses(line, 13, camera)).toEqual([]);
  });
});
