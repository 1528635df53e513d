/**
 * Which end of a container lying down is its top, from its shape: a neck or a lid is nearer to the top; a plainly
 * tapered wall opens upwards.
 */
export function topComesFirst(radiiMm: ArrayLike<number>): boolean {
  const n = radiiMm.length - 1;
  const radii = Array.from(radiiMm);
  const widest = Math.max(...radii);
  const mean = (from: number, to: number) => {
    const part = radii.slice(Math.round(from * n), Math.round(to * n) + 1);
    return part.reduce((a, b) => a + b, 0) / part.length;
  };
  const [first, second, third, last] = [mean(0.04, 0.2), mean(0.2, 0.45), mean(0.55, 0.8), mean(0.8, 0.96)];
  // an inner narrow place (under a lid or cap) lies towards the top
  let neck = -1;
  let depth = 0.01 * widest;
  for (let i = 2; i + 2 <= n; i++) {
    const left = Math.max(...radii.slice(0, i));
    const right = Math.max(...radii.slice(i + 1));
    const dip = Math.min(left, right) - radii[i];
    if (dip > depth) {
      depth = dip;
      neck = i;
    }
  }
  if (neck >= 0 && Math.abs(neck / n - 0.5) > 0.15) return neck < 0.5 * n;
  const bendFirst = Math.abs(second - first - (third - second) * 0.6);
  const bendLast = Math.abs(last - third - (third - second) * 0.6);
  const straight = Math.max(bendFirst, bendLast) < 0.06 * widest;
  return straight ? first > last + 0.01 * widest : first < last;
}
