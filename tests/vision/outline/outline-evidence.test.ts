import { describe, expect, it } from 'vitest';
import { largest } from '../../../vision/container/finding-error.ts';
import { judgeOutline, type OutlineEvidence } from '../../../vision/outline/outline-evidence.ts';
import { coarseSightingOf, drawnScene } from './drawn-scene.ts';

const CLEAR: OutlineEvidence = {
  supported: 0.97,
  gap: { maxDiameterMm: 0.005, heightMm: 0.005, baseDiameterMm: 0.01 },
  footing: 0.9,
  footSeen: 0.8,
  roundnessError: 0.001,
  beyondFrame: 0,
  rivalSize: 0,
};

describe('judgeOutline', () => {
  const coarse = coarseSightingOf(drawnScene(64, 64));
  const judged = (evidence: Partial<OutlineEvidence>) => judgeOutline({ ...CLEAR, ...evidence }, coarse);

  it('measures without a word what the picture bears out', () => {
    const { findingSd, refusal, warnings } = judged({});
    expect(largest(findingSd)).toBeLessThan(0.005);
    expect(refusal).toBeNull();
    expect(warnings).toEqual([]);
  });

  it('doubts the sizes in which mask and edges differ, and leaves the others alone', () => {
    const { findingSd, warnings } = judged({ supported: 0.8, gap: { ...CLEAR.gap, heightMm: 0.08 } });
    expect(findingSd.heightMm).toBeGreaterThan(3 * findingSd.maxDiameterMm);
    expect(warnings).toEqual(['outline-uncertain']);
  });

  it('believes edges that are seen all round against a mask that differs', () => {
    const differing = { ...CLEAR.gap, heightMm: 0.08 };
    const [clear, faint] = [0.99, 0.8].map((supported) => judged({ supported, gap: differing }).findingSd.heightMm);
    expect(clear).toBeLessThan(0.2 * faint);
  });

  it('is less sure where few edges are seen, also when the mask agrees', () => {
    expect(judged({ supported: 0.7 }).findingSd.maxDiameterMm).toBeGreaterThan(0.03);
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
