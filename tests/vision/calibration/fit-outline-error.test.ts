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

const CLEAR = { supported: 0.95, gap: 0.004 };

describe('logScore', () => {
  // density of Student's t with 1.5 degrees of freedom at 0, and its 97.5 % point: SciPy 1.11, scipy.stats.t
  it('is the logarithm of the density of each error', () => {
    const sure = { ...OUTLINE_ERROR, least: 0, perGap: 0, fitSdFactor: 1 };
    const scale = (0.01 * 1.959964) / 6.016663;
    const at = (error: number) => logScore([{ supported: 1, sizes: [{ error, sd: 0.01, gap: 0.1 }] }], sure);
    expect(at(0)).toBeCloseTo(Math.log(0.340735 / scale), 5);
    // at the 95 % point: (1 + t²/ν)^(−(ν + 1)/2)
    expect(at(0.01 * 1.959964)).toBeCloseTo(Math.log(0.340735 / scale) - 1.25 * Math.log(1 + 6.016663 ** 2 / 1.5), 5);
  });
});

describe('fitOutlineError', () => {
  it('finds the numbers that simulated errors were drawn with', () => {
    const random = seededRandom(3);
    const truth = { fitSdFactor: 1.7, perGap: 4, least: 0.003, perUnsupported: 8 };
    // a normal over the root of a mean of squares has Student's distribution, here with two degrees of freedom for 1.5
    const student = () => random.normal() / Math.sqrt((random.normal() ** 2 + random.normal() ** 2) / 2);
    const cases: OutlineCase[] = Array.from({ length: 600 }, (_, i) => {
      const supported = 1 - 0.3 * ((i % 10) / 10);
      const sizes = [0.002, 0.01].map((sd, k) => {
        const gap = ((i + k) % 7) / 100;
        const scale = Math.hypot(truth.fitSdFactor * sd, outlineErrorSd({ supported, gap }, truth));
        return { error: (scale / 3.4) * student(), sd, gap };
      });
      return { supported, sizes };
    });
    const found = fitOutlineError(cases, OUTLINE_ERROR);
    for (const name of ['fitSdFactor', 'perGap', 'least', 'perUnsupported'] as const) {
      expect(found[name]).toBeGreaterThan(0.7 * truth[name]);
      expect(found[name]).toBeLessThan(1.4 * truth[name]);
    }
  });

  it('gives the numbers in use from the cases that are kept', () => {
    const cases: OutlineCase[] = JSON.parse(readFileSync('vision/calibration/outline-evidence.json', 'utf8'));
    expect(logScore(cases, OUTLINE_ERROR)).toBeGreaterThan(2 * cases.length);
    const found = fitOutlineError(cases, OUTLINE_ERROR);
    for (const name of ['fitSdFactor', 'perGap', 'least', 'perUnsupported'] as const)
      expect(found[name] / OUTLINE_ERROR[name]).toBeCloseTo(1, 2);
  });

  it('knows an outline whose edges are all seen better than one whose edges are half seen', () => {
    expect(outlineErrorSd({ ...CLEAR, supported: 0.6 }, OUTLINE_ERROR)).toBeGreaterThan(
      5 * outlineErrorSd(CLEAR, OUTLINE_ERROR),
    );
  });
});
