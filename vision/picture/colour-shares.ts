/**
 * A colour histogram smoothed with 1/4, 1/2, 1/4 along each axis, with sum 1 (all zero when nothing was counted).
 * @param counts    one count per bin; the first axis varies fastest
 * @param axisBins  number of bins along each axis
 */
export function colourShares(counts: Float32Array, axisBins: readonly number[]): Float32Array {
  let smooth = counts;
  let step = 1;
  for (const bins of axisBins) {
    const next = new Float32Array(smooth.length);
    for (let b = 0; b < next.length; b++) {
      const place = Math.floor(b / step) % bins;
      next[b] =
        0.5 * smooth[b] +
        0.25 * (place > 0 ? smooth[b - step] : smooth[b]) +
        0.25 * (place < bins - 1 ? smooth[b + step] : smooth[b]);
    }
    smooth = next;
    step *= bins;
  }
  let sum = 0;
  for (const value of smooth) sum += value;
  return sum > 0 ? smooth.map((value) => value / sum) : smooth;
}
