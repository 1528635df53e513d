import { beforeAll, describe, expect, it } from 'vitest';
import type { Cv } from '../../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { findOutlines, type OutlineCandidate } from '../../../vision/outline/find-outlines.ts';
import { coarseSightingOf, type DrawnScene, drawnScene, hintsFor } from './drawn-scene.ts';

describe('a cylinder standing beside a card', () => {
  let cv: Cv;
  let scene: DrawnScene;
  let found: OutlineCandidate;
  beforeAll(async () => {
    ({ cv } = await loadOpenCv());
    scene = drawnScene();
    [found] = findOutlines(cv, scene.photo, hintsFor(scene));
  });

  it('is doubted by a per cent when the network sees it end 2 % of its height farther out, against clear edges', () => {
    const [other] = findOutlines(cv, scene.photo, { ...hintsFor(scene), coarse: coarseSightingOf(scene, 1.04) });
    expect(other.verdict.relativeSd).toBeGreaterThan(0.01);
    expect(found.verdict.relativeSd).toBeLessThan(0.01);
  });

  it('is looked for again with the second opinion where the first mask strays, and the surer outline counts', () => {
    const straying = coarseSightingOf(scene, 1.06);
    const [doubted] = findOutlines(cv, scene.photo, { ...hintsFor(scene), coarse: straying });
    const coarse = { ...straying, otherBodyMask: coarseSightingOf(scene).bodyMask };
    const [surer] = findOutlines(cv, scene.photo, { ...hintsFor(scene), coarse });
    expect(surer.verdict.relativeSd).toBeLessThan(0.2 * doubted.verdict.relativeSd);
  });
});
