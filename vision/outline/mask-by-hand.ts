import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { BorderSample } from './border-profiles.ts';

/** A sample of the outline that the hand led to, and whether it lies in a stretch that the hand spoke for. */
export interface LedSample extends BorderSample {
  readonly isSpokenFor: boolean;
}

/**
 * The mask with the hand's word in place of the network's wherever the nearest piece of outline is one that the hand
 * spoke for: inside up to there, outside beyond, as blurred as the hand is uncertain.
 */
export function maskByHand(mask: CoarseMask, samples: readonly LedSample[], blurPx: number): CoarseMask {
  if (!samples.some(({ isSpokenFor }) => isSpokenFor)) return mask;
  const { widthCells, heightCells, originPx, pxPerCell } = mask;
  const blur = Math.max(blurPx, 0.5 * Math.hypot(...pxPerCell));
  const probability = Float32Array.from(mask.probability);
  for (let row = 0; row < heightCells; row++) {
    for (let column = 0; column < widthCells; column++) {
      const x = originPx[0] + column * pxPerCell[0];
      const y = originPx[1] + row * pxPerCell[1];
      let nearest = samples[0];
      let least = Number.POSITIVE_INFINITY;
      for (const sample of samples) {
        const away = (sample.x - x) ** 2 + (sample.y - y) ** 2;
        if (away < least) [least, nearest] = [away, sample];
      }
      if (!nearest.isSpokenFor) continue;
      const outPx = (x - nearest.x) * nearest.normalX + (y - nearest.y) * nearest.normalY;
      // close to the normal distribution: π/√3 per sd
      probability[row * widthCells + column] = 1 / (1 + Math.exp((1.8 * outPx) / blur));
    }
  }
  return { ...mask, probability };
}
