import { beforeAll, describe, expect, it } from 'vitest';
import { largest } from '../../../vision/container/finding-error.ts';
import type { Cv } from '../../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { liveOpenCvObjects } from '../../../vision/opencv/mat-scope.ts';
import { findOutlines, type OutlineCandidate } from '../../../vision/outline/find-outlines.ts';
import { contourSeen } from '../../../vision/outline/mask-contour.ts';
import { CYLINDER, coarseSightingOf, type DrawnScene, drawnScene, hintsFor, signedDistance } from './drawn-scene.ts';

describe('a cylinder standing beside a card', () => {
  let cv: Cv;
  let scene: DrawnScene;
  let found: OutlineCandidate;
  beforeAll(async () => {
    ({ cv } = await loadOpenCv());
    scene = drawnScene();
    [found] = findOutlines(cv, scene.photo, hintsFor(scene));
  });

  it('is outlined to half a pixel from a coarse mask that is 2 % too large', () => {
    expect(found.arrangement).toBe('standing');
    const errors = found.outline.points.map(({ xPx, yPx }) => Math.abs(signedDistance(scene.outlinePx, [xPx, yPx])));
    expect(errors.length).toBeGreaterThan(80);
    expect(quantile(errors, 0.5)).toBeLessThan(0.35);
    expect(quantile(errors, 0.9)).toBeLessThan(1);
  });

  it('gives points whose stated uncertainty covers their error', () => {
    const within = found.outline.points.filter(
      ({ xPx, yPx, sdPx }) => Math.abs(signedDistance(scene.outlinePx, [xPx, yPx])) < 2 * sdPx,
    );
    expect(within.length / found.outline.points.length).toBeGreaterThan(0.85);
  });

  it('has normals that point out of the container', () => {
    for (const { xPx, yPx, normalX, normalY } of found.outline.points) {
      expect(Math.hypot(normalX, normalY)).toBeCloseTo(1, 6);
      expect(signedDistance(scene.outlinePx, [xPx + 6 * normalX, yPx + 6 * normalY])).toBeGreaterThan(0);
    }
  });

  it('gives points that run once round the container', () => {
    const { points } = found.outline;
    const steps = points.map(({ xPx, yPx }, i) => {
      const next = points[(i + 1) % points.length];
      return Math.hypot(next.xPx - xPx, next.yPx - yPx);
    });
    expect(quantile(steps, 0.95)).toBeLessThan(15);
    const area = points.reduce((sum, { xPx, yPx }, i) => {
      const next = points[(i + 1) % points.length];
      return sum + (xPx * next.yPx - next.xPx * yPx) / 2;
    }, 0);
    const trueArea = scene.outlinePx.reduce((sum, [x, y], i) => {
      const [nx, ny] = scene.outlinePx[(i + 1) % scene.outlinePx.length];
      return sum + (x * ny - nx * y) / 2;
    }, 0);
    expect(Math.abs(area / trueArea)).toBeCloseTo(1, 1);
  });

  it('is recognised as well seen, whole and round', () => {
    expect(found.verdict).toMatchObject({ refusal: null, warnings: [] });
    expect(largest(found.verdict.findingSd)).toBeLessThan(0.02);
    expect(found.outline.cutByFrame).toBe(false);
  });

  it('yields the size of the drawn cylinder', () => {
    expect(found.fit?.state.heightMm).toBeGreaterThan(0.98 * CYLINDER.heightMm);
    expect(found.fit?.state.heightMm).toBeLessThan(1.02 * CYLINDER.heightMm);
  });

  it('is refused where the frame cuts it', () => {
    const cut = drawnScene(640, 640, -290);
    expect(Math.min(...cut.outlinePx.map(([x]) => x))).toBeLessThan(-20);
    const [refused] = findOutlines(cv, cut.photo, {
      ...hintsFor(cut),
      coarse: { ...coarseSightingOf(cut), cutByFrame: 0.95 },
    });
    expect(refused.verdict.refusal).toBe('container-cut-off');
  });

  it('is not fitted where the card shows no pose, and says so', () => {
    const line = [100, 200, 300, 400].map((x) => [x, x] as const) as unknown as DrawnScene['card']['cornersPx'];
    const hints = hintsFor(scene);
    const [none] = findOutlines(cv, scene.photo, { ...hints, card: { ...hints.card, cornersPx: line } });
    expect(none).toMatchObject({ verdict: { refusal: 'card-too-oblique' } });
  });

  it('is sketched without a card to a hundredth of its height', () => {
    const sketch = contourSeen(coarseSightingOf(scene).bodyMask, middleOf(scene));
    const errors = (sketch ?? []).map((at) => Math.abs(signedDistance(scene.outlinePx, at)));
    expect(errors.length).toBeGreaterThan(50);
    expect(quantile(errors, 0.9)).toBeLessThan(0.02 * (scene.axisPx[0][1] - scene.axisPx[1][1]));
  });

  it('leaves nothing behind in the memory of OpenCV', () => {
    expect(liveOpenCvObjects()).toBe(0);
  });
});

function middleOf({ axisPx: [base, top] }: DrawnScene): readonly [number, number] {
  return [(base[0] + top[0]) / 2, (base[1] + top[1]) / 2];
}

function quantile(values: readonly number[], share: number): number {
  return [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))];
}
