import { describe, expect, it } from 'vitest';
import { hangingHeight, loopBarMm, loopCell } from '../../sizing/body/mesh-cells.ts';

describe('hanging ratios of netting (FAO Catalogue of Small Scale Fishing Gear 1975; Prado, Fisherman’s Workbook 1990)', () => {
  it.each([
    [0.3, 0.9539],
    [0.4, 0.9165],
    [0.5, 0.866],
    [0.6, 0.8],
    [Math.SQRT1_2, Math.SQRT1_2],
    [0.8, 0.6],
    [0.9, 0.4359],
  ])('hung at %f of its width a mesh has %f of its height', (width, height) => {
    expect(Math.abs(hangingHeight(width) - height)).toBeLessThan(1e-4);
  });
});

describe('a chain loop on a rigid container (derived, worked by hand)', () => {
  it('12 loops of 5 chains of 5 mm around 66.2 mm are 17.33 mm wide and add 12.24 mm a round', () => {
    const cell = loopCell(66.2, 12, loopBarMm(5, 5));
    expect(cell.barMm).toBe(15);
    expect(Math.abs(cell.widthMm - 17.331)).toBeLessThan(0.01);
    expect(Math.abs(cell.openness - 0.5777)).toBeLessThan(0.001);
    expect(Math.abs(cell.heightMm - 12.243)).toBeLessThan(0.01);
    expect(Math.abs(100 / cell.heightMm - 8.168)).toBeLessThan(0.01);
  });

  it('the same loops of 4 chains add 9.01 mm', () => {
    expect(Math.abs(loopCell(66.2, 12, loopBarMm(4, 5)).heightMm - 9.01)).toBeLessThan(0.01);
  });

  it('loses x / 4v of height for each millimetre of width (derivative by central difference)', () => {
    const height = (widthMm: number) => loopCell(widthMm / Math.PI, 1, 15).heightMm;
    const slope = (height(17.331 + 1e-4) - height(17.331 - 1e-4)) / 2e-4;
    expect(slope).toBeCloseTo(-17.331 / (4 * 12.243), 3);
  });

  it('encloses most where its bars stand 54.74 degrees to the axis: E1 = 0.8165', () => {
    const volume = (openness: number) => openness ** 2 * hangingHeight(openness);
    const best = Array.from({ length: 9999 }, (_, index) => (index + 1) / 10_000).reduce((a, b) =>
      volume(b) > volume(a) ? b : a,
    );
    expect(best).toBeCloseTo(Math.sqrt(2 / 3), 4);
  });

  it('does not go over a container wider than its loops stretched straight', () => {
    expect(loopCell(66.2, 12, 8.6).heightMm).toBe(0);
  });
});
