import type { Round } from '../../sizing/plan.ts';

/** Neighbouring rounds worked alike, so that paper says them once. Base rounds keep a line each, with their width. */
export function groupedRounds(rounds: readonly Round[]): Round[][] {
  const groups: Round[][] = [];
  for (const round of rounds) {
    const group = groups.at(-1);
    if (group && workedAlike(group[0], round)) group.push(round);
    else groups.push([round]);
  }
  return groups;
}

function workedAlike(a: Round, b: Round): boolean {
  return (
    a.part !== 'base' &&
    a.note === b.note &&
    a.stitches === b.stitches &&
    a.spaces === b.spaces &&
    JSON.stringify(a.steps) === JSON.stringify(b.steps)
  );
}
