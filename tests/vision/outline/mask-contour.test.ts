import { describe, expect, it } from 'vitest';
import { signedArea } from '../../../vision/geometry/polygon.ts';
import type { CoarseMask } from '../../../vision/network/coarse-sighting.ts';
import { contourSeen, maskContour } from '../../../vision/outline/mask-contour.ts';
import { maskShapes } from '../../../vision/outline/mask-shape.ts';

function maskOf(widthCells: number, heightCells: number, at: (x: number, y: number) => number): CoarseMask {
  const probability = Float32Array.from({ length: widthCells * heightCells }, (_, k) =>
    at(k % widthCells, Math.floor(k / widthCells)),
  );
  return { widthCells, heightCells, probability, originPx: [10, 20], pxPerCell: [4, 4] };
}

describe('maskContour', () => {
  const disc = maskOf(40, 40, (x, y) => 1 / (1 + Math.exp(Math.hypot(x - 20, y - 18) - 9.3)));
  const contour = maskContour(disc, maskShapes(disc)[0]);

  it('follows the half of a soft disc to a tenth of a cell, clockwise as seen', () => {
    for (const [x, y] of contour) expect(Math.hypot((x - 10) / 4 - 20, (y - 20) / 4 - 18)).toBeCloseTo(9.3, 0);
    expect(Math.sqrt(signedArea(contour) / Math.PI) / 4).toBeCloseTo(9.3, 1);
  });

  it('leaves out holes', () => {
    const ring = maskOf(40, 40, (x, y) => {
      const r = Math.hypot(x - 20, y - 20);
      return r < 12 && r > 4 ? 0.95 : 0.05;
    });
    expect(Math.sqrt(signedArea(maskContour(ring, maskShapes(ring)[0])) / Math.PI) / 4).toBeCloseTo(12, 0);
  });

  it('closes along the border of a picture that cuts the piece', () => {
    const cut = maskOf(20, 20, (x) => (x < 5 ? 0.9 : 0.1));
    const xs = maskContour(cut, maskShapes(cut)[0]).map(([x]) => x);
    expect(Math.min(...xs)).toBeGreaterThan(10 - 4);
    expect(Math.max(...xs)).toBeCloseTo(10 + 4 * 4.5, 6);
  });

  it('is that of the piece that was tapped', () => {
    const two = maskOf(40, 20, (x, y) => (Math.hypot(x - 10, y - 10) < 6 || Math.hypot(x - 30, y - 10) < 4 ? 1 : 0));
    const left = contourSeen(two, undefined) ?? [];
    const right = contourSeen(two, [10 + 4 * 30, 20 + 4 * 10]) ?? [];
    expect(Math.max(...left.map(([x]) => x))).toBeLessThan(10 + 4 * 18);
    expect(Math.min(...right.map(([x]) => x))).toBeGreaterThan(10 + 4 * 24);
    expect(contourSeen(two, [12, 22])).toBeNull();
  });
});
