/** Random numbers that repeat from run to run (mulberry32). */
export interface SeededRandom {
  uniform(from?: number, to?: number): number;
  normal(sd?: number): number;
  whole(from: number, to: number): number;
  chance(share: number): boolean;
  pick<T>(list: readonly T[]): T;
}

export function seededRandom(seed: number): SeededRandom {
  let state = (seed * 0x9e3779b1) >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const uniform = (from = 0, to = 1): number => from + (to - from) * next();
  const normal = (sd = 1): number => sd * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return {
    uniform,
    normal,
    whole: (from, to) => from + Math.floor(next() * (to - from + 1)),
    chance: (share) => next() < share,
    pick: (list) => list[Math.floor(next() * list.length)],
  };
}
