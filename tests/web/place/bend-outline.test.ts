import { describe, expect, test } from 'vitest';
import { bendOutline, evenlySpaced, handleIndices, startingOutline } from '../../../web/place/bend-outline.ts';

const square = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
] as const;
const outline = evenlySpaced(square, 400);

describe('an outline under the hand', () => {
  test('evenly spaced points lie on the outline they came from, one perimeter apart in all', () => {
    expect(outline).toHaveLength(400);
    for (let i = 0; i < outline.length; i += 1) {
      const [x, y] = outline[i];
      const [nextX, nextY] = outline[(i + 1) % outline.length];
      expect(Math.min(Math.abs(x), Math.abs(x - 100), Math.abs(y), Math.abs(y - 100))).toBeLessThan(1e-9);
      expect(Math.hypot(nextX - x, nextY - y)).toBeCloseTo(1, 9);
    }
  });

  test('handles are spread evenly along it', () => {
    expect(handleIndices(outline, 8)).toEqual([0, 50, 100, 150, 200, 250, 300, 350]);
  });

  test('a moved handle goes where it is put and its neighbours stay', () => {
    const handles = handleIndices(outline, 8);
    const bent = bendOutline(outline, handles, 2, [7, -3]);
    expect(bent[100][0]).toBeCloseTo(outline[100][0] + 7, 9);
    expect(bent[100][1]).toBeCloseTo(outline[100][1] - 3, 9);
    for (const other of [50, 150, 200, 0]) {
      expect(bent[other][0]).toBeCloseTo(outline[other][0], 9);
      expect(bent[other][1]).toBeCloseTo(outline[other][1], 9);
    }
  });

  test('the bend fades without a kink: halfway to a neighbour it is half as large', () => {
    const bent = bendOutline(outline, handleIndices(outline, 8), 2, [10, 0]);
    expect(bent[75][0] - outline[75][0]).toBeCloseTo(5, 9);
    expect(bent[125][0] - outline[125][0]).toBeCloseTo(5, 9);
  });

  test('the first handle bends both ends of the list alike', () => {
    const bent = bendOutline(outline, handleIndices(outline, 8), 0, [0, 4]);
    expect(bent[25][1] - outline[25][1]).toBeCloseTo(bent[375][1] - outline[375][1], 9);
  });

  test('the outline to start from lies inside the photo', () => {
    for (const [x, y] of startingOutline({ widthPx: 1200, heightPx: 1600 })) {
      expect(x).toBeGreaterThan(0);
      expect(x).toBeLessThan(1200);
      expect(y).toBeGreaterThan(0);
      expect(y).toBeLessThan(1600);
    }
  });
});
