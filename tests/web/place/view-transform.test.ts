import { describe, expect, test } from 'vitest';
import {
  fitAround,
  fitView,
  imageFromScreen,
  panBy,
  screenFromImage,
  zoomAbout,
} from '../../../web/place/view-transform.ts';

const photo = { width: 4000, height: 3000 };
const canvas = { width: 390, height: 500 };

describe('the photo on screen', () => {
  test('shows the whole photo centred, pixel edges half a pixel outside pixel centres', () => {
    const view = fitView(photo, canvas);
    expect(view.scale).toBeCloseTo(390 / 4000, 12);
    const [left, top] = screenFromImage(view, [-0.5, -0.5]);
    const [right, bottom] = screenFromImage(view, [3999.5, 2999.5]);
    expect(left).toBeCloseTo(0, 9);
    expect(right).toBeCloseTo(390, 9);
    expect(top).toBeCloseTo(500 - bottom, 9);
  });

  test('imageFromScreen undoes screenFromImage', () => {
    const view = zoomAbout(fitView(photo, canvas), 3.7, [120, 210], photo, canvas);
    const [x, y] = imageFromScreen(view, screenFromImage(view, [1234.5, 678.25]));
    expect(x).toBeCloseTo(1234.5, 9);
    expect(y).toBeCloseTo(678.25, 9);
  });

  test('zooming keeps the photo point under the finger where it is', () => {
    const start = zoomAbout(fitView(photo, canvas), 4, [200, 250], photo, canvas);
    const under = imageFromScreen(start, [150, 240]);
    const zoomed = zoomAbout(start, 1.6, [150, 240], photo, canvas);
    expect(imageFromScreen(zoomed, [150, 240])[0]).toBeCloseTo(under[0], 9);
    expect(imageFromScreen(zoomed, [150, 240])[1]).toBeCloseTo(under[1], 9);
  });

  test('zooming out stops at the whole photo', () => {
    const zoomed = zoomAbout(fitView(photo, canvas), 0.01, [10, 10], photo, canvas);
    expect(zoomed.scale).toBeCloseTo(fitView(photo, canvas).scale, 12);
  });

  test('panning never opens a gap beside a photo larger than the canvas', () => {
    const zoomed = zoomAbout(fitView(photo, canvas), 8, [195, 250], photo, canvas);
    const panned = panBy(zoomed, [1e6, 1e6], photo, canvas);
    expect(screenFromImage(panned, [-0.5, -0.5])[0]).toBeCloseTo(0, 9);
    expect(screenFromImage(panned, [-0.5, -0.5])[1]).toBeCloseTo(0, 9);
  });
});

describe('the part of the photo that is looked at first', () => {
  const photo = { width: 1600, height: 1200 };
  const canvas = { width: 400, height: 300 };

  test('holds all the points, with room around them', () => {
    const view = fitAround(
      [
        [700, 500],
        [900, 600],
      ],
      photo,
      canvas,
    );
    expect(view.scale).toBeGreaterThan(fitView(photo, canvas).scale);
    for (const corner of [
      [700, 500],
      [900, 600],
    ] as const) {
      const [x, y] = screenFromImage(view, corner);
      expect(Math.min(x, y, canvas.width - x, canvas.height - y)).toBeGreaterThan(20);
    }
  });

  test('is the whole photo when the points fill it', () => {
    expect(
      fitAround(
        [
          [0, 0],
          [1599, 1199],
        ],
        photo,
        canvas,
      ),
    ).toEqual(fitView(photo, canvas));
  });
});
