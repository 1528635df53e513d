import { describe, expect, it } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import type { MeasuredRectangle } from '../../../vision/flat-piece/measure-rectangle.ts';
import { sidesByRows } from '../../../vision/flat-piece/sides-by-rows.ts';

function rectangle(acrossMm: number, upMm: number, liesDiagonally = false): MeasuredRectangle {
  return {
    acrossMm: estimate(acrossMm, 0.5),
    upMm: estimate(upMm, 0.5),
    correlation: 0.5,
    skewRad: 0,
    liesDiagonally,
    edgePx: [],
  };
}

describe('which side of a piece runs along its rows', () => {
  it.each([
    [undefined, 80],
    ['across', 80],
    ['up', 60],
    ['longer', 80],
    ['shorter', 60],
  ] as const)('said "%s": %i mm', (rowsRun, alongMm) => {
    const { alongRowsMm, acrossRowsMm, warnings } = sidesByRows(rectangle(80, 60), rowsRun);
    expect([alongRowsMm.value, acrossRowsMm.value]).toEqual([alongMm, 140 - alongMm]);
    expect(warnings).toEqual([]);
  });

  it.each([undefined, 'across', 'up'] as const)(
    'of a piece that lies diagonally "%s" leaves both readings within the ±, and asks',
    (rowsRun) => {
      const { alongRowsMm, acrossRowsMm, correlation, warnings } = sidesByRows(rectangle(80, 60, true), rowsRun);
      for (const { low95, high95 } of [alongRowsMm, acrossRowsMm]) {
        expect(low95).toBeLessThan(60);
        expect(high95).toBeGreaterThan(80);
      }
      // The longer the one, the shorter the other.
      expect(correlation).toBeLessThan(-0.9);
      expect(warnings.map(({ code }) => code)).toEqual(['work-lies-diagonally']);
    },
  );

  it('by length is no answer for sides that may be equal: both lengths stay within the ±', () => {
    const { alongRowsMm } = sidesByRows(rectangle(70.6, 70, true), 'longer');
    expect(alongRowsMm.value).toBeCloseTo(70.3, 9);
    expect(alongRowsMm.sd).toBeGreaterThan(0.5);
  });
});
