import { describe, expect, it } from 'vitest';
import { type ContainerFit, fitContainer, type PhotoSight } from '../../../vision/container/fit-container.ts';
import {
  type HandPlacement,
  handPoints,
  isSpokenFor,
  type PlacedFeature,
} from '../../../vision/container/hand-placement.ts';
import { handWarnings } from '../../../vision/container/hand-warnings.ts';
import { projectSolidOutline } from '../../../vision/container/project-model-outline.ts';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import { handlesOf, placementOf, pulled, type SolidHandle } from '../../../vision/container/solid-handles.ts';
import { heightOf, type SolidInView, silhouetteOf, solidOf } from '../../../vision/container/solid-in-view.ts';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { type SimulatedScene, simulateScene } from '../../support/simulated-scene.ts';

const HAND_SD_PX = 6;

describe('a hand on the drawn solid', () => {
  it('corrects the height of a container whose top was not seen, and is believed no further than a hand', () => {
    for (const seed of [3, 8, 20]) {
      const scene = standing(seed);
      const withoutTop = seenWithout(scene, [{ feature: 'top-edge', share: 1, side: 0, points: [], sdPx: 1 }]);
      const before = drawn(fitted(scene.sight));
      const placed = placedOn(scene, handle(before, 'top-edge'), before);
      const fit = fitted({ ...withoutTop, hand: handPoints([placed]) });
      const { value, sd } = sizeEstimate(fit, 'heightMm');
      expect(Math.abs(value - scene.heightMm)).toBeLessThan(2 * sd);
      // a hand 6 px off moves the top by this much at least
      const handMm = (HAND_SD_PX * scene.heightMm) / extentPx(before);
      expect(sd).toBeGreaterThan(0.8 * handMm);
      expect(sd).toBeLessThan(3 * handMm + 0.02 * scene.heightMm);
    }
  });

  it('never makes a size surer than clear edges have made it', () => {
    const scene = standing(8);
    const before = fitted(scene.sight);
    const placed = placedOn(scene, handle(drawn(before), 'wall'), drawn(before));
    const after = fitted({ ...seenWithout(scene, [placed]), hand: handPoints([placed]) });
    for (const size of ['maxDiameterMm', 'heightMm'] as const) {
      expect(sizeEstimate(after, size).sd).toBeGreaterThan(0.9 * sizeEstimate(before, size).sd);
    }
  });

  it('is overruled by clear edges that lie elsewhere, and asked about', () => {
    const scene = standing(8);
    const before = fitted(scene.sight);
    const solid = drawn(before);
    const careless = shifted(handle(solid, 'wall'), 8 * HAND_SD_PX);
    const placed = placementOf(
      handle(solid, 'wall'),
      pulled(solid, careless, careless.atPx),
      careless.atPx,
      HAND_SD_PX,
    );
    const fit = fitted({ ...scene.sight, hand: handPoints([placed]) });
    expect(handWarnings(fit, [placed])).toContain('hand-against-edges');
    const { value, high95 } = sizeEstimate(before, 'maxDiameterMm');
    expect(Math.abs(sizeEstimate(fit, 'maxDiameterMm').value - value)).toBeLessThan(3 * (high95 - value));
  });

  it('asks whether a lone bump that makes the container widest belongs to it, until it is told', () => {
    const scene = standing(8);
    const before = fitted(scene.sight);
    const solid = drawn(before);
    const walls = ([-1, 1] as const).map((side): PlacedFeature => {
      const held = handlesOf(solid).find((h) => h.feature === 'wall' && h.side === side && h.share === 0.5);
      if (!held) throw new Error('no wall to hold');
      const { atPx } = shifted(held, 20);
      return placementOf(held, solid, atPx, 1);
    });
    const fit = fitted({ ...seenWithout(scene, walls), hand: handPoints(walls) }, before);
    expect(handWarnings(fit, walls)).toContain('hand-bump');
    const sure = walls.map((wall) => ({ ...wall, isSure: true }));
    expect(handWarnings(fit, sure)).not.toContain('hand-bump');
  });
});

describe('the stretches that a hand speaks for', () => {
  it('are one side of a wall, both sides of an end, and whatever a finger left out', () => {
    const wall: HandPlacement = { feature: 'wall', share: 0.5, side: 1, points: [], sdPx: 1 };
    expect(isSpokenFor([wall], { xPx: 0, yPx: 0, share: 0.55, side: 1 })).toBe(true);
    expect(isSpokenFor([wall], { xPx: 0, yPx: 0, share: 0.55, side: -1 })).toBe(false);
    expect(isSpokenFor([wall], { xPx: 0, yPx: 0, share: 0.8, side: 1 })).toBe(false);
    const top: HandPlacement = { feature: 'top-edge', share: 1, side: 0, points: [], sdPx: 1 };
    expect(isSpokenFor([top], { xPx: 0, yPx: 0, share: 0.99, side: -1 })).toBe(true);
    const path: ImagePoint[] = [
      [0, 0],
      [100, 0],
    ];
    const out: HandPlacement = { feature: 'left-out', pathPx: path, radiusPx: 10 };
    expect(isSpokenFor([out], { xPx: 50, yPx: 8, share: 0.3, side: 1 })).toBe(true);
    expect(isSpokenFor([out], { xPx: 50, yPx: 12, share: 0.3, side: 1 })).toBe(false);
  });
});

describe('the solid while it is held', () => {
  for (const feature of ['top-edge', 'base-edge', 'wall', 'tilt'] as const) {
    it(`follows the finger (${feature})`, () => {
      const solid = drawn(fitted(standing(8).sight));
      const held = handle(solid, feature);
      const to = shifted(held, 12).atPx;
      const after = handlesOf(pulled(solid, held, to)).find(
        (other) => other.feature === feature && other.side === held.side && Math.abs(other.share - held.share) < 0.01,
      );
      if (!after) throw new Error('the handle is gone');
      const [nx, ny] = held.normal;
      const movedPx = (after.atPx[0] - held.atPx[0]) * nx + (after.atPx[1] - held.atPx[1]) * ny;
      expect(movedPx).toBeGreaterThan(10);
      expect(movedPx).toBeLessThan(14);
    });
  }

  it('moves the other wall by as much when one is moved, as a turned body does', () => {
    const solid = drawn(fitted(standing(8).sight));
    const held = handle(solid, 'wall');
    const wide = pulled(solid, held, shifted(held, 20).atPx);
    const apart = (of: SolidInView) => {
      const [left, right] = ([-1, 1] as const).map((side) =>
        handlesOf(of).find((h) => h.feature === 'wall' && h.side === side && h.share === held.share),
      );
      if (!left || !right) throw new Error('no walls');
      return Math.hypot(left.atPx[0] - right.atPx[0], left.atPx[1] - right.atPx[1]);
    };
    expect(apart(wide) - apart(solid)).toBeGreaterThan(36);
    expect(apart(wide) - apart(solid)).toBeLessThan(44);
  });
});

function standing(seed: number): SimulatedScene {
  return simulateScene(seededRandom(seed), {
    arrangement: 'standing',
    focalCase: 'exact',
    longSidePx: 1600,
    exact: true,
  });
}

function fitted(sight: PhotoSight, start?: ContainerFit): ContainerFit {
  const result = fitContainer(sight, { arrangement: 'standing', start, following: start !== undefined });
  if (!result.ok) throw new Error(result.reason);
  return result.fit;
}

function drawn({ model, solution, state }: ContainerFit): SolidInView {
  model.stateAt(solution.parameters);
  return solidOf(state, model.curve);
}

function handle(solid: SolidInView, feature: SolidHandle['feature']): SolidHandle {
  const found = handlesOf(solid).find((each) => each.feature === feature);
  if (!found) throw new Error(`nothing to hold: ${feature}`);
  return found;
}

function shifted(handle: SolidHandle, byPx: number): SolidHandle {
  const { atPx, normal } = handle;
  return { ...handle, atPx: [atPx[0] + byPx * normal[0], atPx[1] + byPx * normal[1]] };
}

/** A handle set down on the true silhouette. */
function placedOn({ profile, view }: SimulatedScene, held: SolidHandle, solid: SolidInView): PlacedFeature {
  const truth = projectSolidOutline(profile, view, 2);
  const at = truth.reduce((a, b) => (distance(b, held) < distance(a, held) ? b : a));
  return placementOf(held, solid, [at.xPx, at.yPx], HAND_SD_PX);
}

function distance({ xPx, yPx }: { readonly xPx: number; readonly yPx: number }, { atPx }: SolidHandle): number {
  return Math.hypot(xPx - atPx[0], yPx - atPx[1]);
}

/** What is seen of a scene but for the stretches that a hand spoke for. */
function seenWithout(scene: SimulatedScene, hand: readonly HandPlacement[]): PhotoSight {
  const solid = drawn(fitted(scene.sight));
  const silhouette = silhouetteOf(solid, 4);
  const points = scene.sight.outline.points.filter((point) => {
    const nearest = silhouette.reduce((a, b) =>
      Math.hypot(b.xPx - point.xPx, b.yPx - point.yPx) < Math.hypot(a.xPx - point.xPx, a.yPx - point.yPx) ? b : a,
    );
    return !isSpokenFor(hand, { ...nearest, share: nearest.zMm / heightOf(solid) });
  });
  return { ...scene.sight, outline: { ...scene.sight.outline, points } };
}

function extentPx(solid: SolidInView): number {
  const [top, base] = [handle(solid, 'top-edge'), handle(solid, 'base-edge')];
  return Math.hypot(top.atPx[0] - base.atPx[0], top.atPx[1] - base.atPx[1]);
}
