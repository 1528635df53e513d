import { describe, expect, it } from 'vitest';
import { judgeOutline, type OutlineEvidence } from '../../../vision/outline/outline-evidence.ts';
import { coarseSightingOf, drawnScene } from './drawn-scene.ts';

const CLEAR: OutlineEvidence = {
  supportedAt: { widest: 0.98, top: 0.98, base: 0.98 },
  contradiction: 0.002,
  footing: 0.9,
  supported: 0.95,
  visible: 1,
  contrast: 0.88,
  roundnessError: 0.001,
  maskAgreement: 0.97,
  cardOverlap: 0,
  beyondFrame: 0,
  rivalSize: 0,
};

describe('judgeOutline', () => {
  const coarse = coarseSightingOf(drawnScene(64, 64));

  it('measures without a word what the picture bears out', () => {
    const { quality, refusal, warnings } = judgeOutline(CLEAR, coarse);
    expect(quality).toBeGreaterThan(0.95);
    expect(refusal).toBeNull();
    expect(warnings).toEqual([]);
  });

  it('warns where a fifth of the outline cannot be seen, refuses where a third cannot', () => {
    const doubtful = { ...CLEAR, supported: 0.8, supportedAt: { widest: 0.75, top: 0.6, base: 0.6 }, contrast: 0.72 };
    expect(judgeOutline(doubtful, coarse)).toMatchObject({ refusal: null, warnings: ['outline-uncertain'] });
    const hidden = { ...CLEAR, supported: 0.67, supportedAt: { widest: 0.6, top: 0.2, base: 0.3 }, contrast: 0.65 };
    expect(judgeOutline(hidden, coarse).refusal).toBe('fit-failed');
  });

  it.each(['widest', 'top', 'base'] as const)(
    'is less sure when the %s cannot be seen, however clear all else is',
    (part) => {
      const hidden = judgeOutline({ ...CLEAR, supportedAt: { ...CLEAR.supportedAt, [part]: 0.3 } }, coarse);
      expect(hidden.quality).toBeLessThan(judgeOutline(CLEAR, coarse).quality - 0.01);
    },
  );

  it('refuses clear edges that the network contradicts over a whole end: a label may end there, not the container', () => {
    expect(judgeOutline({ ...CLEAR, contradiction: 0.015 }, coarse).refusal).toBe('fit-failed');
  });

  it('is less sure without the network', () => {
    const without = judgeOutline({ ...CLEAR, supported: 0.85, maskAgreement: null }, undefined).quality;
    expect(without).toBeLessThan(judgeOutline({ ...CLEAR, supported: 0.85 }, coarse).quality);
  });

  it.each([
    ['no-container', CLEAR, { containerPresent: 0.1 }],
    ['container-cut-off', { ...CLEAR, beyondFrame: 0.1 }, {}],
    ['container-cut-off', CLEAR, { cutByFrame: 0.95 }],
    ['two-containers', { ...CLEAR, rivalSize: 0.7 }, {}],
    ['fit-failed', { ...CLEAR, footing: 0.3 }, {}],
    ['not-round', CLEAR, { round: 0.05 }],
    ['not-round', { ...CLEAR, roundnessError: 0.03 }, {}],
  ] as const)('refuses with %s', (refusal, evidence, seen) => {
    expect(judgeOutline(evidence, { ...coarse, ...seen }).refusal).toBe(refusal);
  });

  it('warns when left and right do not match', () => {
    expect(judgeOutline({ ...CLEAR, roundnessError: 0.008 }, coarse).warnings).toContain('maybe-not-round');
  });
});
