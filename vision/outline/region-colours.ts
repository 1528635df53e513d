import { colourShares } from '../picture/colour-shares.ts';
import type { ViewPicture } from './view-picture.ts';

const BINS = 16;
const AXIS_BINS = [BINS, BINS, BINS];
const BIN_COUNT = BINS * BINS * BINS;
/** Share of colours never seen before in each region: a cap may have any colour, the ground seldom a new one. */
const NEW_INSIDE = 0.35;
const NEW_OUTSIDE = 0.08;
/** No single pixel decides. */
const MOST = 2;

/**
 * Evidence for "container" from colour alone: log ratio of two smoothed colour histograms.
 * @param weight  > 0 for pixels taken as inside, < 0 for outside, 0 for unknown
 */
export function colourEvidence(picture: ViewPicture, weight: Float32Array): Float32Array {
  const bins = colourBins(picture);
  const inside = new Float32Array(BIN_COUNT);
  const outside = new Float32Array(BIN_COUNT);
  for (let i = 0; i < bins.length; i++) {
    if (!picture.inPhoto[i] || weight[i] === 0) continue;
    if (weight[i] > 0) inside[bins[i]] += weight[i];
    else outside[bins[i]] -= weight[i];
  }
  const inShare = colourShares(inside, AXIS_BINS);
  const outShare = colourShares(outside, AXIS_BINS);
  const uniform = 1 / 400; // colours of one scene fill a few hundred bins
  const ratio = new Float32Array(BIN_COUNT);
  for (let b = 0; b < BIN_COUNT; b++) {
    const p = (1 - NEW_INSIDE) * inShare[b] + NEW_INSIDE * uniform;
    const q = (1 - NEW_OUTSIDE) * outShare[b] + NEW_OUTSIDE * uniform;
    ratio[b] = Math.min(Math.max(Math.log(p / q), -MOST), MOST);
  }
  const evidence = new Float32Array(bins.length);
  for (let i = 0; i < bins.length; i++) evidence[i] = picture.inPhoto[i] ? ratio[bins[i]] : 0;
  return evidence;
}

/** 0..1: Hellinger distance between the colours of the pixels with positive and with negative weight. */
export function colourSeparation(picture: ViewPicture, weight: Float32Array): number {
  const bins = colourBins(picture);
  const inside = new Float32Array(BIN_COUNT);
  const outside = new Float32Array(BIN_COUNT);
  for (let i = 0; i < bins.length; i++) {
    if (!picture.inPhoto[i] || weight[i] === 0) continue;
    (weight[i] > 0 ? inside : outside)[bins[i]] += Math.abs(weight[i]);
  }
  const p = colourShares(inside, AXIS_BINS);
  const q = colourShares(outside, AXIS_BINS);
  let overlap = 0;
  for (let b = 0; b < BIN_COUNT; b++) overlap += Math.sqrt(p[b] * q[b]);
  return Math.sqrt(Math.max(1 - overlap, 0));
}

function colourBins({ planes }: ViewPicture): Uint16Array {
  const bins = new Uint16Array(planes[0].length);
  for (let i = 0; i < bins.length; i++) {
    const brightness = Math.min(Math.floor(planes[0][i] / 16), BINS - 1);
    const redGreen = Math.min(Math.max(Math.floor(planes[1][i] / 10 + 8), 0), BINS - 1);
    const yellowBlue = Math.min(Math.max(Math.floor(planes[2][i] / 10 + 8), 0), BINS - 1);
    bins[i] = (brightness * BINS + redGreen) * BINS + yellowBlue;
  }
  return bins;
}
