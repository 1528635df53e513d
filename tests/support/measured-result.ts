import { estimate } from '../../vision/estimate.ts';
import type { MeasureResult } from '../../vision/measurement.ts';

/** A straight jar as the engine would report it: for tests that need some result, not a particular one. */
export const measuredResult: Extract<MeasureResult, { outcome: 'measured' }> = {
  outcome: 'measured',
  warnings: [],
  measurement: {
    arrangement: 'standing',
    card: {
      cornersPx: [
        [500, 1200],
        [800, 1190],
        [840, 1380],
        [480, 1400],
      ],
      reference: 'ID-1',
    },
    baseDiameterMm: estimate(70, 0.3),
    maxDiameterMm: estimate(72, 0.25),
    heightMm: estimate(140, 0.5),
    capacityMl: estimate(540, 8),
    profile: [
      { zMm: 0, radiusMm: 35, sdMm: 0.15 },
      { zMm: 70, radiusMm: 36, sdMm: 0.12 },
      { zMm: 140, radiusMm: 30, sdMm: 0.2 },
    ],
    features: {
      baseEdgeRadiusMm: estimate(4, 1),
      shoulderZMm: estimate(110, 2),
      neckDiameterMm: null,
      waistZMm: null,
      wallTaperRad: estimate(0.01, 0.005),
    },
    focalLengthPx: estimate(1250, 20),
    outlinePx: [
      [500, 400],
      [700, 400],
      [710, 1100],
      [490, 1100],
    ],
    axisPx: [
      [600, 1100],
      [600, 400],
    ],
    view: null,
  },
};
