/**
 * Cheapest sequence of places, one per sample, where neighbouring samples may differ at a price; dynamic programming.
 * @param costs     count × places
 * @param stepCost  price of moving by one place from a sample to the next
 * @param mostStep  largest move allowed
 */
export function cheapestPath(
  costs: Float32Array,
  count: number,
  places: number,
  stepCost: number,
  mostStep: number,
): Int16Array {
  const from = new Int16Array(count * places);
  let before = new Float64Array(places);
  let now = new Float64Array(places);
  for (let k = 0; k < places; k++) before[k] = costs[k];
  for (let i = 1; i < count; i++) {
    for (let k = 0; k < places; k++) {
      let best = Infinity;
      let origin = k;
      for (let step = -mostStep; step <= mostStep; step++) {
        const p = k + step;
        if (p < 0 || p >= places) continue;
        const cost = before[p] + stepCost * Math.abs(step);
        if (cost < best) {
          best = cost;
          origin = p;
        }
      }
      now[k] = best + costs[i * places + k];
      from[i * places + k] = origin;
    }
    [before, now] = [now, before];
  }
  const path = new Int16Array(count);
  let k = before.indexOf(Math.min(...before));
  for (let i = count - 1; i >= 0; i--) {
    path[i] = k;
    k = from[i * places + k];
  }
  return path;
}
