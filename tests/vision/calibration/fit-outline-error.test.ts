import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  fitOutlineError,
  logScore,
  type OutlineCase,
  outlineErrorSd,
} from '../../../vision/calibration/fit-outline-error.ts';
import { OUTLINE_ERROR } from '../../../vision/calibration/numbers.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const CLEAR = { stray: 0, contrast: 0.9, fade: 0.02 };

describe('logScore', () => {
  // density of Student's t with 4 degrees of freedom at 0: 0.375 (Γ(5/2) / (Γ(2) √(4π)))
  it('is the logarithm of the density of each error', () => {
    const sure = { ...OUTLINE_ERROR, least: 0, fitSdFactor: 1 };
    const scale = (0.01 * 1.959964) / 2.776445;
    const at = (error: number) => logScore([{ ...CLEAR, sizes: [{ error, sd: 0.01 }] }], sure);
    expect(at(0)).toBeCloseTo(Math.log(0.375 / scale), 6);
    // at the 95 % point: 0.375 · (1 + t²/4)^(−5/2), t = 2.776445
    expect(at(0.01 * 1.959964)).toBeCloseTo(Math.log(0.375 / scale) - 2.5 * Math.log(1 + 2.776445 ** 2 / 4), 6);
  });
});

describe('fitOutlineError', () => {
  it('finds by how much simulated fits are worse than they say', () => {
    const random = seededRandom(3);
    // Student's t with 4 degrees of freedom: normal over the root of a mean of four squares
    const student = () => random.normal() / Math.sqrt([0, 0, 0, 0].reduce((sum) => sum + random.normal() ** 2, 0) / 4);
    const cases: OutlineCase[] = Array.from({ length: 800 }, () => {
      const finding = outlineErrorSd(CLEAR, OUTLINE_ERROR);
      const sizes = [0.005, 0.01].map((sd) => {
        const scale = (Math.hypot(1.7 * sd, finding) * 1.959964) / 2.776445;
        return { error: scale * student(), sd };
      });
      return { ...CLEAR, sizes };
    });
    expect(fitOutlineError(cases, OUTLINE_ERROR).fitSdFactor).toBeGreaterThan(1.55);
    expect(fitOutlineError(cases, OUTLINE_ERROR).fitSdFactor).toBeLessThan(1.85);
  });

  it('gives the number in use from the cases that are kept', () => {
    const cases: OutlineCase[] = JSON.parse(readFileSync('vision/calibration/outline-evidence.json', 'utf8'));
    expect(fitOutlineError(cases, OUTLINE_ERROR).fitSdFactor).toBeCloseTo(OUTLINE_ERROR.fitSdFactor, 2);
  });
});
