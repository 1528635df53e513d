import { compressUnits, LONGEST_LINE, lineLength } from '../compress-steps.ts';
import type { Step } from '../plan.ts';

/**
 * Ways to share `total` out over `count` places that differ by at most one, as amounts per place: first the most even,
 * then ever fewer and longer groups of the larger and the smaller share, which read shorter.
 */
export function waysToShare(total: number, count: number): number[][] {
  if (count === 0) return [[]];
  const small = Math.floor(total / count);
  const larger = total - small * count;
  if (larger === 0) return [Array.from({ length: count }, () => small)];
  const ways: number[][] = [];
  for (let groups = Math.min(larger, count - larger); groups >= 1; groups--) {
    const way: number[] = [];
    for (let group = 0; group < groups; group++) {
      way.push(...repeated(small + 1, portion(larger, groups, group)));
      way.push(...repeated(small, portion(count - larger, groups, group)));
    }
    ways.push(way);
  }
  return ways;
}

/** The most even of the ways whose round reads in a line; `unitsOf` writes a way as the units of a round,
 * `reserve` is what the line needs before and after them. */
export function evenestReadable(
  ways: readonly number[][],
  unitsOf: (way: readonly number[]) => Step[][],
  reserve = 0,
): Step[] {
  let last: Step[] = [];
  for (const way of ways) {
    last = compressUnits(unitsOf(way));
    if (lineLength(last) <= LONGEST_LINE - reserve) return last;
  }
  return last;
}

function portion(total: number, groups: number, group: number): number {
  return Math.floor(((group + 1) * total) / groups) - Math.floor((group * total) / groups);
}

function repeated(value: number, times: number): number[] {
  return Array.from({ length: times }, () => value);
}
