import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { eyeInContainer } from '../../../vision/container/container-model.ts';
import { type ContainerFit, fitContainer, type PhotoSight } from '../../../vision/container/fit-container.ts';
import { fitWarnings, isBaseSeen } from '../../../vision/container/fit-warnings.ts';
import { projectModelOutline } from '../../../vision/container/project-model-outline.ts';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import { toMeasurement } from '../../../vision/container/to-measurement.ts';
import { ARRANGEMENTS, PROBLEMS } from '../../../vision/measurement.ts';
import type { OutlinePoint } from '../../../vision/sighting.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { simulateScene } from '../../support/simulated-scene.ts';

const ALL_SIZES = ['baseDiameterMm', 'maxDiameterMm', 'heightMm'] as const;

describe('fitContainer', () => {
  for (const arrangement of ARRANGEMENTS) {
    it(`finds the sizes of exact observations to 1 % and within their interval (${arrangement})`, () => {
      for (const seed of [3, 8, 20]) {
        const scene = simulateScene(seededRandom(seed), {
          arrangement,
          focalCase: 'rounded',
          longSidePx: 1600,
          exact: true,
        });
        const fit = fitted(scene.sight, arrangement);
        const sizes = arrangement === 'lying' || !isBaseSeen(fit) ? ALL_SIZES.slice(1) : ALL_SIZES;
        for (const size of sizes) {
          const { value, low95, high95 } = sizeEstimate(fit, size);
          expect(Math.abs(value / scene[size] - 1)).toBeLessThan(0.01);
          expect(low95).toBeLessThan(scene[size]);
          expect(high95).toBeGreaterThan(scene[size]);
        }
      }
    });
  }

  it('is not taken in by an end seen from a little above that looks like one seen from a little below', () => {
    // eye 2° below the top's plane, where the first valley that the fit finds has it 2° above
    const seed = 1_000_003 + 2 * 100_003 + 111;
    const scene = simulateScene(seededRandom(seed), {
      arrangement: 'card-on-front',
      focalCase: 'exact',
      longSidePx: 1600,
    });
    const fit = fitted(scene.sight, 'card-on-front');
    expect(eyeInContainer(fit.state)[2] - fit.state.heightMm).toBeLessThan(0);
    expect(eyeInContainer(scene.view)[2] - scene.heightMm).toBeLessThan(0);
    const { value, sd } = sizeEstimate(fit, 'maxDiameterMm');
    expect(Math.abs(value - scene.maxDiameterMm)).toBeLessThan(3 * sd);
  });

  it('goes on from a fit of nearly the same picture to the same answer', () => {
    const scene = simulateScene(seededRandom(5), { arrangement: 'standing', focalCase: 'rounded', longSidePx: 1600 });
    const first = fitted(scene.sight, 'standing');
    const again = fitContainer(moved(scene.sight, 0.3), { arrangement: 'standing', start: first });
    expect(again.ok).toBe(true);
    if (!again.ok) return;
    for (const size of ALL_SIZES) {
      const { value, sd } = sizeEstimate(first, size);
      expect(Math.abs(sizeEstimate(again.fit, size).value - value)).toBeLessThan(sd);
    }
  });

  it('shakes off a handle on one side and says that the sides differ', () => {
    const scene = simulateScene(seededRandom(11), { arrangement: 'standing', focalCase: 'rounded', longSidePx: 1600 });
    const bulged = withHandle(scene.sight);
    const fit = fitted(bulged, 'standing');
    expect(Math.abs(sizeEstimate(fit, 'maxDiameterMm').value / scene.maxDiameterMm - 1)).toBeLessThan(0.03);
    expect(fitWarnings(fit).map(({ code }) => code)).toContain('maybe-not-round');
  });

  it('states a larger uncertainty when the outline is seen worse', () => {
    const scene = simulateScene(seededRandom(5), { arrangement: 'lying', focalCase: 'rounded', longSidePx: 1600 });
    const worse = {
      ...scene.sight,
      outline: { ...scene.sight.outline, points: withSd(scene.sight.outline.points, 3) },
    };
    expect(sizeEstimate(fitted(worse, 'lying'), 'heightMm').sd).toBeGreaterThan(
      1.05 * sizeEstimate(fitted(scene.sight, 'lying'), 'heightMm').sd,
    );
  });

  it('states a larger uncertainty for a cropped photo', () => {
    const scene = simulateScene(seededRandom(5), { arrangement: 'standing', focalCase: 'rounded', longSidePx: 1600 });
    const cropped = fitted({ ...scene.sight, looksCropped: true }, 'standing');
    expect(sizeEstimate(cropped, 'heightMm').sd).toBeGreaterThan(
      sizeEstimate(fitted(scene.sight, 'standing'), 'heightMm').sd,
    );
    expect(fitWarnings(cropped).map(({ code }) => code)).toContain('looks-cropped');
  });

  it.each([
    ['standing', 0.45],
    ['card-on-front', 0.1],
  ] as const)(
    'refuses a container whose base is hidden, %s: nothing else says how far away it is or how far down it reaches',
    (arrangement, share) => {
      const scene = simulateScene(seededRandom(8), { arrangement, focalCase: 'rounded', longSidePx: 1600 });
      const full = fitted(scene.sight, arrangement);
      const isLow = (_: unknown, i: number) => full.model.touchZMm[i] <= share * full.state.heightMm;
      const { outline } = full.model.seen;
      const outlined = (points: typeof outline) =>
        fitContainer({ ...scene.sight, outline: { ...scene.sight.outline, points } }, { arrangement });
      expect(outlined(outline.filter((point, i) => !isLow(point, i)))).toMatchObject({ reason: 'base-hidden' });
      // to suppose where it is behind the card is not to see it
      const supposed = outline.map((point, i) => ({ ...point, supposed: isLow(point, i) }));
      expect(outlined(supposed)).toMatchObject({ reason: 'base-hidden' });
    },
  );

  it('allows for a saucer where one is seen, and says so: unheeded it makes every size too large', () => {
    const scene = simulateScene(seededRandom(5), {
      arrangement: 'standing',
      focalCase: 'exact',
      longSidePx: 1600,
      raisedMm: 6,
    });
    const unheeded = sizeEstimate(fitted(scene.sight, 'standing'), 'heightMm');
    expect(unheeded.low95).toBeGreaterThan(scene.heightMm);
    const raised = fitted({ ...scene.sight, raisedChance: 0.9 }, 'standing');
    const { low95, high95 } = sizeEstimate(raised, 'heightMm');
    expect(low95).toBeLessThan(scene.heightMm);
    expect(high95).toBeGreaterThan(scene.heightMm);
    expect(fitWarnings(raised).map(({ code }) => code)).toContain('stands-on-something');
  });

  it('takes what hardly looks raised to stand on the table', () => {
    const { sight } = simulateScene(seededRandom(5), { arrangement: 'standing', focalCase: 'exact', longSidePx: 1600 });
    const [table, doubtful] = [0, 0.4].map((raisedChance) => fitted({ ...sight, raisedChance }, 'standing'));
    expect(sizeEstimate(doubtful, 'heightMm')).toEqual(sizeEstimate(table, 'heightMm'));
    expect(fitWarnings(doubtful).map(({ code }) => code)).not.toContain('stands-on-something');
  });

  it('gives no base diameter when a leaning card hides the base, and still the widest diameter', () => {
    const scene = simulateScene(seededRandom(3), {
      arrangement: 'card-leaning',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const full = fitted(scene.sight, 'card-leaning');
    const points = full.model.seen.outline.filter((_, i) => full.model.touchZMm[i] > full.state.baseEdgeMm + 3);
    const fit = fitted({ ...scene.sight, outline: { ...scene.sight.outline, points } }, 'card-leaning');
    expect(toMeasurement(fit).baseDiameterMm).toBeNull();
    expect(fitWarnings(fit).map(({ code }) => code)).toContain('base-not-visible');
    const { value, sd } = sizeEstimate(fit, 'maxDiameterMm');
    expect(Math.abs(value - scene.maxDiameterMm)).toBeLessThan(4 * sd);
  });

  it('refuses an outline cut by the frame, a tiny card and a card seen edge-on, each with its reason', () => {
    const { sight } = simulateScene(seededRandom(5), {
      arrangement: 'standing',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const cut = { ...sight, outline: { ...sight.outline, cutByFrame: true } };
    expect(fitContainer(cut, { arrangement: 'standing' })).toEqual({ ok: false, reason: 'container-cut-off' });
    expect(fitContainer(withCorners(sight, 0.1, 0.1), { arrangement: 'standing' })).toEqual({
      ok: false,
      reason: 'card-too-small',
    });
    expect(fitContainer(withCorners(sight, 1, 0.08), { arrangement: 'standing' })).toEqual({
      ok: false,
      reason: 'card-too-oblique',
    });
  });

  it('refuses a square body instead of measuring it', () => {
    const { sight } = simulateScene(seededRandom(5), {
      arrangement: 'standing',
      focalCase: 'rounded',
      longSidePx: 1600,
    });
    const points = rectangleOutline(sight);
    const result = fitContainer({ ...sight, outline: { ...sight.outline, points } }, { arrangement: 'standing' });
    const doubts = result.ok ? fitWarnings(result.fit).map(({ code }) => code) : [result.reason];
    expect(doubts.some((code) => ['maybe-not-round', 'not-round', 'fit-failed'].includes(code))).toBe(true);
  });

  it('answers degenerate scenes with a typed reason or finite numbers, never with rubbish', () => {
    const { sight } = simulateScene(seededRandom(5), {
      arrangement: 'standing',
      focalCase: 'unknown',
      longSidePx: 1600,
    });
    const spoiled = fc.record({
      arrangement: fc.constantFrom(...ARRANGEMENTS),
      cardStretch: fc.constantFrom(0, 1e-6, 0.05, 1, 50),
      cardSquash: fc.constantFrom(0, 1e-6, 0.05, 1),
      focalPx: fc.constantFrom(Number.NaN, 0, 1, 300, 2000, 1e9),
      outlineStretch: fc.constantFrom(0, 0.01, 1, 20),
      keep: fc.constantFrom(1, 7, 40, 1000),
    });
    fc.assert(
      fc.property(spoiled, ({ arrangement, cardStretch, cardSquash, focalPx, outlineStretch, keep }) => {
        const points = sight.outline.points.slice(0, keep).map((p) => ({
          ...p,
          xPx: 600 + (p.xPx - 600) * outlineStretch,
          yPx: 800 + (p.yPx - 800) * outlineStretch,
        }));
        const spoiledSight: PhotoSight = {
          ...withCorners(sight, cardStretch, cardSquash),
          focalPrior: { focalPx, relativeSd: 0.05, source: 'exif' },
          outline: { ...sight.outline, points },
        };
        const result = fitContainer(spoiledSight, { arrangement });
        if (!result.ok) {
          expect(PROBLEMS).toHaveProperty(result.reason);
          return;
        }
        for (const size of ALL_SIZES) {
          const { value, sd } = sizeEstimate(result.fit, size);
          expect(Number.isFinite(value) && Number.isFinite(sd) && value > 0 && sd > 0).toBe(true);
        }
        expect(projectModelOutline(result.fit, { spacingPx: 20 }).every((p) => Number.isFinite(p.xPx))).toBe(true);
      }),
      { seed: 20, numRuns: 60 },
    );
  });
});

function fitted(sight: PhotoSight, arrangement: (typeof ARRANGEMENTS)[number]): ContainerFit {
  const result = fitContainer(sight, { arrangement });
  if (!result.ok) throw new Error(result.reason);
  return result.fit;
}

function moved(sight: PhotoSight, byPx: number): PhotoSight {
  const points = sight.outline.points.map((p) => ({ ...p, xPx: p.xPx + byPx * p.normalY, yPx: p.yPx - byPx }));
  return { ...sight, outline: { ...sight.outline, points } };
}

function withSd(points: readonly OutlinePoint[], sdPx: number): OutlinePoint[] {
  return points.map((p) => ({ ...p, sdPx }));
}

/** Pushes one stretch of the right side outwards, as a handle would. */
function withHandle(sight: PhotoSight): PhotoSight {
  const ys = sight.outline.points.map((p) => p.yPx);
  const top = Math.min(...ys);
  const tall = Math.max(...ys) - top;
  const points = sight.outline.points.map((p) => {
    const share = (p.yPx - top) / tall;
    return p.normalX > 0.8 && share > 0.35 && share < 0.65 ? { ...p, xPx: p.xPx + 70 } : p;
  });
  return { ...sight, outline: { ...sight.outline, points } };
}

/** The card's corners scaled about their middle, along and across the picture. */
function withCorners(sight: PhotoSight, stretchX: number, stretchY: number): PhotoSight {
  const { cornersPx, sides } = sight.card;
  const middleX = cornersPx.reduce((sum, [x]) => sum + x, 0) / 4;
  const middleY = cornersPx.reduce((sum, [, y]) => sum + y, 0) / 4;
  const scaled = cornersPx.map(([x, y]) => [
    middleX + (x - middleX) * stretchX,
    middleY + (y - middleY) * stretchY,
  ]) as unknown as PhotoSight['card']['cornersPx'];
  const bare = sides.map(({ sdPx }) => ({ edgePointsPx: [], sdPx })) as unknown as PhotoSight['card']['sides'];
  return { ...sight, card: { ...sight.card, cornersPx: scaled, sides: bare } };
}

/** A sharp-cornered box in place of the container: straight base with corners instead of an arc. */
function rectangleOutline(sight: PhotoSight): OutlinePoint[] {
  const xs = sight.outline.points.map((p) => p.xPx);
  const ys = sight.outline.points.map((p) => p.yPx);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  const middle = left + 0.35 * (right - left);
  const slant = 0.12 * (right - left);
  const corners = [
    [left, top + slant],
    [middle, top],
    [right, top + slant],
    [right, bottom - 1.5 * slant],
    [middle, bottom],
    [left, bottom - 2 * slant],
  ];
  const points: OutlinePoint[] = [];
  corners.forEach(([x, y], k) => {
    const [nx, ny] = corners[(k + 1) % corners.length];
    const length = Math.hypot(nx - x, ny - y);
    for (let s = 5; s < length; s += 10) {
      points.push({
        xPx: x + (s / length) * (nx - x),
        yPx: y + (s / length) * (ny - y),
        normalX: (ny - y) / length,
        normalY: -(nx - x) / length,
        sdPx: 0.7,
      });
    }
  });
  return points;
}
