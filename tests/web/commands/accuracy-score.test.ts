import { describe, expect, it } from 'vitest';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import { cornerErrorPct, overlap, quantile, scoreAll } from '../../../web/commands/accuracy-score.ts';
import type { MeasureLine } from '../../../web/commands/measure-line.ts';
import type { Truth } from '../../../web/commands/truth.ts';

const square = (left: number, top: number, side: number): ImagePoint[] => [
  [left, top],
  [left + side, top],
  [left + side, top + side],
  [left, top + side],
];

describe('quantile', () => {
  it('interpolates between order statistics: the median of 1, 2, 3, 10 is 2.5', () => {
    expect(quantile([10, 2, 3, 1], 0.5)).toBe(2.5);
    expect(quantile([10, 2, 3, 1], 1)).toBe(10);
  });

  it('knows nothing about an empty list', () => {
    expect(quantile([], 0.5)).toBeNull();
  });
});

describe('overlap', () => {
  it('is 1 for the same polygon and 0 for polygons apart', () => {
    expect(overlap(square(0, 0, 10), square(0, 0, 10))).toBeCloseTo(1, 9);
    expect(overlap(square(0, 0, 10), square(20, 0, 10))).toBe(0);
  });

  it('is 1/3 for two squares that share half of each', () => {
    expect(overlap(square(0, 0, 10), square(5, 0, 10))).toBeCloseTo(1 / 3, 9);
  });
});

describe('cornerErrorPct', () => {
  const truth = square(0, 0, 100) as unknown as CornersPx;

  it('is the mean corner distance over the long side: 1 px on 100 px is 1 %', () => {
    const found = truth.map(([x, y]) => [x + 1, y]) as unknown as CornersPx;
    expect(cornerErrorPct(found, truth)).toBeCloseTo(1, 9);
  });

  it('does not care which corner comes first', () => {
    const turned = [truth[2], truth[3], truth[0], truth[1]] as CornersPx;
    expect(cornerErrorPct(turned, truth)).toBe(0);
  });
});

describe('scoreAll', () => {
  const truth: Truth = {
    arrangement: 'standing',
    baseDiameterMm: 70,
    maxDiameterMm: 80,
    heightMm: 200,
    shouldRefuse: false,
    cornersPx: null,
    longSide: 0,
    outlinePx: null,
    insidePx: null,
    focal35Mm: null,
    imageWidthPx: 2016,
    imageHeightPx: 1512,
  };
  const size = (value: number) => ({ value, sd: 0.5, low95: value - 1, high95: value + 1 });
  const measured = {
    photo: 'a.jpg',
    outcome: 'measured',
    reason: null,
    arrangement: 'standing',
    card: { cornersPx: null, reference: 'ID-1' },
    baseDiameterMm: null,
    maxDiameterMm: size(80.8),
    heightMm: size(204),
    outlinePx: [],
    elapsedMs: 100,
  } as unknown as MeasureLine;
  const refused = {
    ...measured,
    outcome: 'refused',
    reason: { code: 'no-card', message: '' },
    maxDiameterMm: null,
    heightMm: null,
  } as MeasureLine;

  it('counts errors in % and mm, and whether the truth lies in the interval', () => {
    const report = scoreAll([measured], [truth]);
    expect(report.widestDiameter).toMatchObject({ n: 1, coverage95: 1 });
    expect(report.widestDiameter.medianAbsPct).toBeCloseTo(1, 9);
    expect(report.height).toMatchObject({ coverage95: 0 });
    expect(report.height.medianAbsMm).toBeCloseTo(4, 9);
    expect(report.baseDiameter.n).toBe(0);
  });

  it('calls a size silently wrong that is over 3 % off and outside its interval, and counts the photos that have one', () => {
    const close = { ...measured, heightMm: size(203) } as MeasureLine;
    const honest = { ...measured, heightMm: { ...size(207), low95: 190, high95: 224 } } as MeasureLine;
    const wrong = { ...measured, heightMm: size(207) } as MeasureLine;
    const report = scoreAll([close, honest, wrong, wrong], [truth, truth, truth, truth]);
    expect(report.height.silentWrongPct).toBe(50);
    expect(report.widestDiameter.silentWrongPct).toBe(0);
    expect(report.anySilentWrongPct).toBe(50);
    expect(report.height.halfWidthMedianPct).toBeCloseTo((100 / 203 + 100 / 207) / 2, 9);
  });

  it('does not score the sizes of a photo that ought to be refused, but counts whether it was', () => {
    const report = scoreAll(
      [measured, refused],
      [
        { ...truth, shouldRefuse: true },
        { ...truth, shouldRefuse: true },
      ],
    );
    expect(report).toMatchObject({ measured: 1, refused: 1, negatives: { photos: 2, refused: 1 } });
    expect(report.widestDiameter.n).toBe(0);
  });
});
