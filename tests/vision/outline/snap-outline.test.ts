import { beforeAll, describe, expect, it } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import type { Cv } from '../../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import { liveOpenCvObjects } from '../../../vision/opencv/mat-scope.ts';
import { locateEdges } from '../../../vision/outline/locate-edges.ts';
import { snapOutline } from '../../../vision/outline/snap-outline.ts';
import type { Photo } from '../../../vision/picture/photo.ts';

const SIZE = 400;
const CENTRE = [199.3, 201.7] as const;
const RADIUS = 120.4;

/** A disc with an edge one pixel soft in linear light; grey levels are linear light. */
function discPhoto(inside: number, outside: number): Photo {
  const rgba = new Uint8Array(4 * SIZE * SIZE).fill(255);
  for (let i = 0; i < SIZE * SIZE; i++) {
    const distance = Math.hypot((i % SIZE) - CENTRE[0], Math.floor(i / SIZE) - CENTRE[1]) - RADIUS;
    const share = Math.min(Math.max(0.5 - distance / 2, 0), 1);
    const value = Math.round(255 * (share * inside + (1 - share) * outside) ** (1 / 2.2));
    rgba.fill(value, 4 * i, 4 * i + 3);
  }
  return { widthPx: SIZE, heightPx: SIZE, rgba, lens: { focal35Mm: null, looksCropped: false } };
}

function polygon(radius: number, corners = 40): ImagePoint[] {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners;
    return [CENTRE[0] + radius * Math.cos(angle), CENTRE[1] + radius * Math.sin(angle)];
  });
}

const errorOf = ({ xPx, yPx }: { xPx: number; yPx: number }) => Math.hypot(xPx - CENTRE[0], yPx - CENTRE[1]) - RADIUS;

describe('locateEdges', () => {
  const samples = polygon(RADIUS + 1.3).map(([x, y]) => ({
    x,
    y,
    normalX: (x - CENTRE[0]) / (RADIUS + 1.3),
    normalY: (y - CENTRE[1]) / (RADIUS + 1.3),
  }));

  it('finds a soft edge to a fifth of a pixel, bright on dark or dark on bright', () => {
    for (const photo of [discPhoto(0.8, 0.1), discPhoto(0.1, 0.8)]) {
      const found = locateEdges(photo, samples, 4).filter((point) => point !== null);
      expect(found.length).toBe(samples.length);
      for (const point of found) expect(Math.abs(errorOf(point))).toBeLessThan(0.2);
    }
  });

  it('finds nothing where nothing changes', () => {
    expect(locateEdges(discPhoto(0.4, 0.4), samples, 4).every((point) => point === null)).toBe(true);
  });
});

describe('snapOutline', () => {
  let cv: Cv;
  beforeAll(async () => {
    ({ cv } = await loadOpenCv());
  });

  it('brings a hand-placed outline that is 3 px off to the edge', () => {
    for (const off of [3, -3]) {
      const { points, cutByFrame } = snapOutline(cv, discPhoto(0.7, 0.2), polygon(RADIUS + off));
      expect(points.length).toBeGreaterThan(80);
      for (const point of points) expect(Math.abs(errorOf(point))).toBeLessThan(0.4);
      expect(cutByFrame).toBe(false);
    }
  });

  it('takes a polygon of either sense of rotation', () => {
    const { points } = snapOutline(cv, discPhoto(0.7, 0.2), polygon(RADIUS + 2).reverse());
    for (const { xPx, yPx, normalX, normalY } of points) {
      expect((xPx - CENTRE[0]) * normalX + (yPx - CENTRE[1]) * normalY).toBeGreaterThan(0);
    }
  });

  it('leaves a piece without any edge where the hand put it, with the reach as doubt', () => {
    const { points } = snapOutline(cv, discPhoto(0.4, 0.4), polygon(RADIUS), { reachPx: 6 });
    expect(points.length).toBeGreaterThan(80);
    for (const { sdPx } of points) expect(sdPx).toBe(3);
  });

  it('leaves out what the card hides', () => {
    const card: ImagePoint[] = [
      [250, 100],
      [390, 100],
      [390, 300],
      [250, 300],
    ];
    const { points } = snapOutline(cv, discPhoto(0.7, 0.2), polygon(RADIUS), { cardInFrontPx: card });
    expect(points.some(({ xPx }) => xPx < 200)).toBe(true);
    expect(points.every(({ xPx, yPx }) => !(xPx > 252 && yPx > 102 && yPx < 298))).toBe(true);
  });

  it('notices when the frame cuts the outline', () => {
    const moved = polygon(RADIUS).map(([x, y]): ImagePoint => [x + 100, y]);
    expect(snapOutline(cv, discPhoto(0.7, 0.2), moved).cutByFrame).toBe(true);
  });

  it('needs three points', () => {
    expect(() => snapOutline(cv, discPhoto(0.7, 0.2), polygon(RADIUS, 2))).toThrow(RangeError);
  });

  it('leaves nothing behind in the memory of OpenCV', () => {
    snapOutline(cv, discPhoto(0.7, 0.2), polygon(RADIUS));
    expect(liveOpenCvObjects()).toBe(0);
  });
});
