import { describe, expect, test } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { profileDrawing } from '../../../web/sizes/profile-drawing.ts';

const frame = { axisX: 150, topY: 30, groundY: 330, widestAllowed: 240 };

describe('the side view', () => {
  test('has one scale for width and height', () => {
    const drawn = profileDrawing(containerFromTape({ diameterMm: 80, heightMm: 200 }), frame);
    expect(drawn.unitsPerMm).toBeCloseTo(1.5, 10);
    expect(drawn.groundY - drawn.topY).toBeCloseTo(300, 10);
    expect(2 * drawn.base.halfWidth).toBeCloseTo(120, 10);
  });

  test('of a flat wide bowl is limited by its width', () => {
    const drawn = profileDrawing(containerFromTape({ diameterMm: 240, heightMm: 60 }), frame);
    expect(drawn.unitsPerMm).toBeCloseTo(1, 10);
    expect(drawn.topY).toBeCloseTo(270, 10);
  });

  test('of a cup that opens upwards has its widest place at the rim', () => {
    const drawn = profileDrawing(containerFromTape({ diameterMm: 60, topDiameterMm: 90, heightMm: 120 }), frame);
    expect(drawn.widest.halfWidth / drawn.unitsPerMm).toBeGreaterThan(0.99 * 45);
    expect(drawn.widest.y - drawn.topY).toBeLessThan(0.03 * (drawn.groundY - drawn.topY));
  });

  test('of a straight can shows its width near the middle, where there is room', () => {
    const drawn = profileDrawing(containerFromTape({ diameterMm: 66, heightMm: 115 }), frame);
    const share = (drawn.groundY - drawn.widest.y) / (drawn.groundY - drawn.topY);
    expect(share).toBeGreaterThan(0.35);
    expect(share).toBeLessThan(0.55);
  });
});
