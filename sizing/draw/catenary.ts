/** A point of a hanging line: along the span from its middle, and below the ends. */
export interface CatenaryPoint {
  readonly xMm: number;
  readonly dropMm: number;
}

/**
 * A line of given length between two ends at one height, as it hangs by its own weight: y = a cosh(x / a), where a
 * solves 2 a sinh(span / 2a) = length (Bernoulli, Huygens and Leibniz, Acta Eruditorum 1691). Turned over it is the arch
 * of a strap that is held up at its middle.
 * @returns `count` points, evenly spaced along the line; a straight line when `lengthMm` is no more than the span
 */
export function catenary(spanMm: number, lengthMm: number, count: number): CatenaryPoint[] {
  const even = (k: number) => (count < 2 ? 0 : (2 * k) / (count - 1) - 1);
  if (!(lengthMm > spanMm * 1.000001)) {
    return Array.from({ length: count }, (_, k) => ({ xMm: (even(k) * spanMm) / 2, dropMm: 0 }));
  }
  // sinh(u) / u = length / span, with u = span / 2a; Newton's method on its logarithm
  const wanted = Math.log(lengthMm / spanMm);
  let u = Math.max(Math.sqrt(6 * wanted), 1e-6);
  for (let round = 0; round < 60; round++) {
    const value = Math.log(Math.sinh(u) / u) - wanted;
    const slope = 1 / Math.tanh(u) - 1 / u;
    const next = Math.max(u - value / slope, u / 2);
    if (Math.abs(next - u) < 1e-13 * u) break;
    u = next;
  }
  const aMm = spanMm / (2 * u);
  const endMm = aMm * Math.cosh(u);
  return Array.from({ length: count }, (_, k) => {
    const alongMm = (even(k) * lengthMm) / 2;
    const x = Math.asinh(alongMm / aMm);
    return { xMm: aMm * x, dropMm: endMm - aMm * Math.cosh(x) };
  });
}
