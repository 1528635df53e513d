import { describe, expect, it } from 'vitest';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import { outlineFromPolygon } from '../../../vision/outline/outline-from-polygon.ts';

const SQUARE: ImagePoint[] = [
  [100, 100],
  [300, 100],
  [300, 300],
  [100, 300],
];
const OPTIONS = { imageWidthPx: 400, imageHeightPx: 400, sdPx: 0.5, spacingPx: 10 };

describe('outlineFromPolygon', () => {
  it('sets a sample every spacing, its normal pointing out, whichever way round the polygon runs', () => {
    for (const polygon of [SQUARE, [...SQUARE].reverse()]) {
      const { points, correlationLengthPx, cutByFrame } = outlineFromPolygon(polygon, OPTIONS);
      expect(points).toHaveLength(80);
      expect(correlationLengthPx).toBe(10);
      expect(cutByFrame).toBe(false);
      for (const { xPx, yPx, normalX, normalY } of points) {
        expect((xPx - 200) * normalX + (yPx - 200) * normalY).toBeCloseTo(100, 9);
        expect(Math.hypot(normalX, normalY)).toBeCloseTo(1, 12);
      }
    }
  });

  it('leaves out what runs along the border of the photo, and says that the frame cuts the container', () => {
    const cut = SQUARE.map(([x, y]) => [x + 100, y] as const).map(([x, y]) => [Math.min(x, 399), y] as const);
    const { points, cutByFrame } = outlineFromPolygon(cut, OPTIONS);
    expect(cutByFrame).toBe(true);
    expect(points.every(({ xPx }) => xPx < 398)).toBe(true);
  });

  it('leaves out what the card in front hides', () => {
    const card: CornersPx = [
      [80, 180],
      [320, 180],
      [320, 220],
      [80, 220],
    ];
    const { points } = outlineFromPolygon(SQUARE, { ...OPTIONS, cardInFrontPx: card });
    expect(points.some(({ yPx }) => yPx > 180 && yPx < 220)).toBe(false);
    expect(points.length).toBeGreaterThan(65);
  });

  it('needs three points', () => {
    expect(() => outlineFromPolygon(SQUARE.slice(0, 2), OPTIONS)).toThrow(RangeError);
  });
});
