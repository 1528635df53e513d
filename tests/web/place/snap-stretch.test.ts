import { describe, expect, test } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { bendOutline, handleIndices } from '../../../web/place/bend-outline.ts';
import { snapStretch } from '../../../web/place/snap-stretch.ts';

const circle = (radius: number, count: number): ImagePoint[] =>
  Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * k) / count;
    return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
  });
const outline = circle(200, 360);
const handles = handleIndices(outline);
const edge = circle(206, 500);
const radiusOf = ([x, y]: ImagePoint) => Math.hypot(x, y);

describe('a stretch of outline let go beside an edge', () => {
  const bent = bendOutline(outline, handles, 3, [0, 12]);
  const snapped = snapStretch(bent, edge, handles, 3, 15);

  test('lies on the edge where it was bent', () => {
    expect(radiusOf(snapped[handles[3]])).toBeCloseTo(206, 1);
    for (let i = handles[3] - 12; i <= handles[3] + 12; i += 1) expect(radiusOf(snapped[i])).toBeCloseTo(206, 1);
  });

  test('leaves the rest of the outline alone and joins it without a step', () => {
    for (let i = handles[4]; i < 360; i += 1) expect(snapped[i]).toEqual(outline[i]);
    const steps = snapped.map((point, i) => Math.abs(radiusOf(point) - radiusOf(snapped[(i + 1) % 360])));
    expect(Math.max(...steps)).toBeLessThan(1.5);
  });

  test('stays where it was put when the edge lies out of reach', () => {
    expect(snapStretch(bent, circle(260, 500), handles, 3, 15)).toEqual(bent.map(([x, y]) => [x, y]));
  });

  test('stays where it was put when no edge was found', () => {
    expect(snapStretch(bent, [], handles, 3, 15)).toEqual(bent);
  });
});
