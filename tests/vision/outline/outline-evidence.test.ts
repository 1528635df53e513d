import { describe, expect, it } from 'vitest';
import { judgeOutline, type OutlineEvidence } from '../../../vision/outline/outline-evidence.ts';
import { coarseSightingOf, drawnScene } from './drawn-scene.ts';

const CLEAR: OutlineEvidence = {
  mask: { stray: 0.005, fade: 0.022 },
  footing: 0.9,
  footSeen: 0.8,
  supported: 0.95,
  visible: 1,
  contrast: 0.88,
  roundnessError: 0.001,
  cardOverlap: 0,
  beyondFrame: 0,
  rivalSize: 0,
};

describe('judgeOutline', () => {
  const coarse = coarseSightingOf(drawnScene(64, 64));

  it('measures without a word what the picture bears out', () => {
    const { relativeSd, refusal, warnings } = judgeOutline(CLEAR, coarse);
    expect(relativeSd).toBeLessThan(0.027);
    expect(refusal).toBeNull();
    expect(warnings).toEqual([]);
  });

  it('warns where the mask strays a little from the edges, refuses where it strays far', () => {
    const straying = (stray: number): OutlineEvidence => ({ ...CLEAR, mask: { stray, fade: 0.022 } });
    expect(judgeOutline(straying(0.036), coarse)).toMatchObject({ refusal: null, warnings: ['outline-uncertain'] });
    expect(judgeOutline(straying(0.05), coarse).refusal).toBe('fit-failed');
  });

  it('takes what the mask fades over beyond the usual for the error of the sizes', () => {
    const fading = judgeOutline({ ...CLEAR, mask: { stray: 0.005, fade: 0.065 } }, coarse);
    expect(fading.relativeSd).toBeCloseTo(0.04, 2);
  });

  it('is less sure where the border is faint', () => {
    const faint = judgeOutline({ ...CLEAR, contrast: 0.6 }, coarse).relativeSd;
    expect(faint).toBeGreaterThan(judgeOutline(CLEAR, coarse).relativeSd);
  });

  it('is less sure without the network', () => {
    const without = judgeOutline({ ...CLEAR, mask: null }, undefined).relativeSd;
    expect(without).toBeGreaterThan(2 * judgeOutline(CLEAR, coarse).relativeSd);
  });

  it.each([
    ['no-container', CLEAR, { containerPresent: 0.1 }],
    ['container-cut-off', { ...CLEAR, beyondFrame: 0.1 }, {}],
    ['container-cut-off', CLEAR, { cutByFrame: 0.95 }],
    ['two-containers', { ...CLEAR, rivalSize: 0.7 }, {}],
    ['fit-failed', { ...CLEAR, footing: 0.5 }, {}],
    ['fit-failed', { ...CLEAR, footing: 0.8, footSeen: 0.2 }, {}],
    ['not-round', CLEAR, { round: 0.05 }],
    ['not-round', { ...CLEAR, roundnessError: 0.03 }, {}],
  ] as const)('refuses with %s', (refusal, evidence, seen) => {
    expect(judgeOutline(evidence, { ...coarse, ...seen }).refusal).toBe(refusal);
  });

  it('warns when left and right do not match', () => {
    expect(judgeOutline({ ...CLEAR, roundnessError: 0.008 }, coarse).warnings).toContain('maybe-not-round');
  });
});
