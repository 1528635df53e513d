import { beforeAll, describe, expect, it } from 'vitest';
import { type Ellipse, ellipseThrough } from '../../../vision/geometry/ellipse.ts';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from '../../../vision/geometry/frames.ts';
import type { Cv } from '../../../vision/opencv/cv.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { type CoinView, coinSighting } from '../../../vision/reference/coin-sighting.ts';
import { findCoin } from '../../../vision/reference/find-coin.ts';
import { coinOfRim, placeCoin, rimInSquare } from '../../../vision/reference/place-coin.ts';
import { ROUND_REFERENCES, squareAbout } from '../../../vision/reference/round-reference.ts';
import type { CardSighting } from '../../../vision/sighting.ts';
import { randomDisc } from '../../support/flat-work-cases.ts';
import { randomScene, takePicture } from '../../support/flat-work-pictures.ts';

const [COIN] = ROUND_REFERENCES;
const SIZE_PX = [1000, 750] as const;
let cv: Cv;

beforeAll(async () => {
  cv = (await loadOpenCv()).cv;
});

/** A coin on a table beside crochet, which is round but no coin. */
const { photo, rimPx } = takePicture(randomScene(608, randomDisc(608).disc, COIN, SIZE_PX));
const truth = ellipseThrough(rimPx) as Ellipse;

function viewOf(photo: Pick<Photo, 'widthPx' | 'heightPx'>): CoinView {
  const { widthPx, heightPx } = photo;
  const focalPrior = focalPriorFromLens({ focal35Mm: 26, looksCropped: false }, widthPx, heightPx);
  return { reference: squareAbout(COIN), focalPrior, widthPx, heightPx };
}

function rimOf(sighting: CardSighting | null) {
  return ellipseThrough(sighting?.rim?.points.map(({ xPx, yPx }): ImagePoint => [xPx, yPx]) ?? []);
}

describe('findCoin', () => {
  it('finds the coin by itself, and when it is tapped, to a pixel of its long axis', () => {
    for (const nearPx of [undefined, truth.middle]) {
      const found = rimOf(findCoin(cv, photo, viewOf(photo), { nearPx }));
      expect(Math.abs((found?.long ?? 0) - truth.long)).toBeLessThan(1);
    }
  });

  it('finds none where something else was tapped', () => {
    const nearPx: ImagePoint = [truth.middle[0] + 2 * truth.long, truth.middle[1]];
    expect(findCoin(cv, photo, viewOf(photo), { nearPx })).toBeNull();
  });

  it('takes no end of the container for the coin', () => {
    const everywhere = {
      widthCells: 10,
      heightCells: 8,
      probability: new Float32Array(80).fill(1),
      originPx: [50, 47],
      pxPerCell: [100, 94],
    } as const;
    expect(findCoin(cv, photo, viewOf(photo), { bodyMask: everywhere })).toBeNull();
  });
});

describe('a coin placed by hand', () => {
  const SQUARE: CornersPx = [
    [400, 300],
    [520, 310],
    [540, 380],
    [380, 370],
  ];

  it('touches the four sides of the square about it', () => {
    const rim = rimInSquare(SQUARE, 400) ?? [];
    for (const [k, [ax, ay]] of SQUARE.entries()) {
      const [bx, by] = SQUARE[(k + 1) % 4];
      const inside = rim.map(([x, y]) => ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / Math.hypot(bx - ax, by - ay));
      expect(Math.min(...inside)).toBeGreaterThan(-1e-6);
      expect(Math.min(...inside)).toBeLessThan(0.1);
    }
  });

  it('stays where it was placed, and says the same as its rim', () => {
    const view = viewOf({ widthPx: 1000, heightPx: 750 });
    const placed = placeCoin(SQUARE, view, 2);
    expect(placed?.cornersPx).toEqual(SQUARE);
    const again = coinOfRim(rimInSquare(SQUARE, 24) ?? [], view, 2);
    expect(rimOf(placed)?.long).toBeCloseTo(rimOf(again)?.long ?? 0, 6);
  });

  it('is the coin whose square was found: corners to rim and back', () => {
    const found = coinOfRim(rimPx, viewOf(photo), 1);
    const back = ellipseThrough(rimInSquare(found?.cornersPx ?? SQUARE, 40) ?? []);
    expect(Math.abs((back?.long ?? 0) - truth.long)).toBeLessThan(0.01 * truth.long);
    expect(Math.abs((back?.short ?? 0) - truth.short)).toBeLessThan(0.01 * truth.long);
  });

  it('is none for points on a line', () => {
    const line = Array.from({ length: 8 }, (_, k): ImagePoint => [100 + 20 * k, 50 + k]);
    expect(coinOfRim(line, viewOf({ widthPx: 1000, heightPx: 750 }), 1)).toBeNull();
    expect(coinSighting({ points: [], haloSdPx: 1 }, viewOf({ widthPx: 1000, heightPx: 750 }))).toBeNull();
  });
});
