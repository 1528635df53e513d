import { describe, expect, it } from 'vitest';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import type { Arrangement } from '../../../vision/measurement.ts';
import { photosOf, SIZES, together } from './photos-of-one-container.ts';

describe('fitSameContainer', () => {
  it('covers the true sizes and is surer than the surest photo alone, for any mix of arrangements', () => {
    const mixes: Arrangement[][] = [
      ['standing', 'standing'],
      ['standing', 'lying'],
      ['card-on-front', 'standing', 'lying'],
    ];
    let covered = 0;
    const sdRatios: number[] = [];
    for (const mix of mixes) {
      for (const seed of [2, 4, 6]) {
        const { scenes, photos } = photosOf(seed, mix);
        const { fit } = together(photos);
        for (const size of SIZES) {
          const { sd, low95, high95 } = sizeEstimate(fit, size);
          sdRatios.push(sd / Math.min(...photos.map((photo) => sizeEstimate(photo.fit, size).sd)));
          if (low95 < scenes[0][size] && scenes[0][size] < high95) covered++;
        }
      }
    }
    expect(covered).toBeGreaterThanOrEqual(sdRatios.length - 2);
    // how sure a single fit is depends a little on where it has put the wall's edges, so one may be luckily sure
    expect(Math.max(...sdRatios)).toBeLessThan(1.05);
    expect(sdRatios.reduce((a, b) => a + b, 0) / sdRatios.length).toBeLessThan(0.85);
  });
});
