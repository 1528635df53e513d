import { describe, expect, it } from 'vitest';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import { placeCard } from '../../../vision/reference/place-card.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import {
  imageFromTable,
  propagate,
  tableFromImage,
  tableMmPerPx,
  tableView,
} from '../../../vision/reference/table-view.ts';

/** A card seen straight from above from 400 mm with a lens of 1000 px: 2.5 px per mm of its face. */
const CORNERS: CornersPx = [
  [393, 232.525],
  [607, 232.525],
  [607, 367.475],
  [393, 367.475],
];

function fromAbove(sdPx: number, relativeSd: number) {
  const focalPrior = { focalPx: 1000, relativeSd, source: 'exif' } as const;
  const size = { widthPx: 1001, heightPx: 601 };
  const card = placeCard(CORNERS, { ...size, focalPrior, reference: ID1_CARD, sdPx });
  const view = card && tableView({ ...size, card, reference: ID1_CARD, focalPrior, looksCropped: false });
  if (!view) throw new Error('no view');
  return view;
}

describe('camera over the table', () => {
  it('stands 400 mm above the face of a card that it sees at 2.5 px per mm', () => {
    const { view } = fromAbove(0.1, 0.001);
    expect(view.eyeMm[2]).toBeCloseTo(400 + ID1_CARD.thicknessMm, 1);
    expect(tableMmPerPx(view, [0, 0])).toBeCloseTo((400 + ID1_CARD.thicknessMm) / 1000, 4);
  });

  it('finds the card corners again on the plane of its face', () => {
    const { view } = fromAbove(0.1, 0.001);
    const point = tableFromImage(view, CORNERS[1], ID1_CARD.thicknessMm);
    expect(Math.abs(point?.[0] ?? 0)).toBeCloseTo(ID1_CARD.widthMm / 2, 2);
    expect(Math.abs(point?.[1] ?? 0)).toBeCloseTo(ID1_CARD.heightMm / 2, 2);
  });

  it('sends every table point back to where it came from', () => {
    const { view } = fromAbove(0.1, 0.001);
    for (const pixel of [
      [100, 100],
      [700, 500],
      [520, 20],
    ] as ImagePoint[]) {
      const point = tableFromImage(view, pixel, 2);
      const [x, y] = imageFromTable(view, point ?? [0, 0], 2);
      expect(x).toBeCloseTo(pixel[0], 6);
      expect(y).toBeCloseTo(pixel[1], 6);
    }
  });

  it('sees by the card alone that a cropped picture was scaled unevenly', () => {
    const wider = CORNERS.map(([x, y]) => [500 + 1.012 * (x - 500), y]) as unknown as CornersPx;
    const focalPrior = { focalPx: 1000, relativeSd: 0.25, source: 'exif' } as const;
    const size = { widthPx: 1001, heightPx: 601 };
    const card = placeCard(wider, { ...size, focalPrior, reference: ID1_CARD, sdPx: 0.2 });
    const lengthMm = (looksCropped: boolean) => {
      const uncertain = card && tableView({ ...size, card, reference: ID1_CARD, focalPrior, looksCropped });
      if (!uncertain) throw new Error('no view');
      // 100 px across that were 100 / 1.012 px before
      const { values, covariance } = propagate(uncertain, [], (view) => {
        const a = tableFromImage(view, [450, 300], ID1_CARD.thicknessMm) ?? [0, 0];
        const b = tableFromImage(view, [450, 400], ID1_CARD.thicknessMm) ?? [0, 0];
        return [Math.hypot(b[0] - a[0], b[1] - a[1])];
      });
      return { value: values[0], sd: Math.sqrt(covariance[0][0]) };
    };
    const [original, cropped] = [lengthMm(false), lengthMm(true)];
    expect(Math.abs(cropped.value - 40)).toBeLessThan(Math.abs(original.value - 40));
    expect(Math.abs(cropped.value - 40)).toBeLessThan(2 * cropped.sd);
    expect(cropped.sd).toBeGreaterThan(original.sd);
  });

  it('knows its tilt better from sides with straight edge samples than from sides as well placed by hand', () => {
    const focalPrior = { focalPx: 1000, relativeSd: 0.001, source: 'exif' } as const;
    const size = { widthPx: 1001, heightPx: 601 };
    const placed = placeCard(CORNERS, { ...size, focalPrior, reference: ID1_CARD, sdPx: 0.3 });
    if (!placed) throw new Error('no card');
    const sides = placed.sides.map((side, k) => {
      const [[ax, ay], [bx, by]] = [placed.cornersPx[k], placed.cornersPx[(k + 1) % 4]];
      const along = Array.from({ length: 20 }, (_, i) => (i + 0.5) / 20);
      return { ...side, edgePointsPx: along.map((t) => [ax + t * (bx - ax), ay + t * (by - ay)] as const) };
    }) as unknown as typeof placed.sides;
    const tiltSd = (card: typeof placed) => {
      const view = tableView({ ...size, card, reference: ID1_CARD, focalPrior, looksCropped: false });
      if (!view) throw new Error('no view');
      return Math.sqrt(propagate(view, [], ({ rotation }) => [rotation[2]]).covariance[0][0]);
    };
    expect(tiltSd({ ...placed, sides })).toBeLessThan(0.8 * tiltSd(placed));
  });

  it('gives lengths on the table the relative uncertainty of the card, when its corners are exact', () => {
    const lengths = propagate(fromAbove(0.001, 1e-5), [], (view) => {
      const a = tableFromImage(view, [400, 300], 0.76) ?? [0, 0];
      const b = tableFromImage(view, [600, 300], 0.76) ?? [0, 0];
      return [Math.hypot(b[0] - a[0], b[1] - a[1])];
    });
    const relative = Math.sqrt(lengths.covariance[0][0]) / lengths.values[0];
    // card tolerance and the halo of 0.25 px on both sides of 214 px and 135 px, root of squares
    expect(relative).toBeGreaterThan(ID1_CARD.relativeSd);
    expect(relative).toBeLessThan(Math.hypot(ID1_CARD.relativeSd, 0.5 / 135));
  });

  it('carries independent inputs through: the sum of x and 2 y has variance σx² + 4 σy²', () => {
    const { covariance } = propagate(fromAbove(0.1, 0.01), [3, 4], (_, [x, y]) => [x + 2 * y]);
    expect(covariance[0][0]).toBeCloseTo(9 + 64, 6);
  });
});
