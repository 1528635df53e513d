import type { Checkpoint, Plan, Round } from '../../sizing/plan.ts';

/** Neighbouring rounds worked alike, so that paper says them once. Base rounds keep a line each, with their width. */
export function groupedRounds(rounds: readonly Round[]): Round[][] {
  return runsOf(rounds, workedAlike);
}

/** Base widths on paper: the last rounds decide; the width expected of earlier ones stands beside them. */
const WIDTH_CHECKS_ON_PAPER = 3;

/** The checks that paper has room for: the one the forecast asks for, the last widths of the base, and all heights. */
export function checkpointsOnPaper({ checkpoints, fit: { verdict } }: Pick<Plan, 'checkpoints' | 'fit'>): Checkpoint[] {
  const widths = checkpoints.filter(({ measure }) => measure === 'width across');
  const heights = checkpoints.filter(({ measure }) => measure !== 'width across');
  const askedFor = 'afterRound' in verdict ? verdict.afterRound : null;
  const last = widths.slice(-WIDTH_CHECKS_ON_PAPER);
  const early = widths.filter((check) => check.afterRound === askedFor && !last.includes(check));
  return [...early, ...last.slice(early.length), ...heights];
}

/** Neighbouring checks with the same advice. */
export function groupedCheckpoints(checkpoints: readonly Checkpoint[]): Checkpoint[][] {
  return runsOf(checkpoints, (a, b) => JSON.stringify([a.ifLess, a.ifMore]) === JSON.stringify([b.ifLess, b.ifMore]));
}

function runsOf<T>(items: readonly T[], isAlike: (first: T, next: T) => boolean): T[][] {
  const runs: T[][] = [];
  for (const item of items) {
    const run = runs.at(-1);
    if (run && isAlike(run[0], item)) run.push(item);
    else runs.push([item]);
  }
  return runs;
}

function workedAlike(a: Round, b: Round): boolean {
  return (
    a.part !== 'base' &&
    JSON.stringify(a.notes) === JSON.stringify(b.notes) &&
    a.starts === b.starts &&
    a.stitches === b.stitches &&
    a.spaces === b.spaces &&
    JSON.stringify(a.steps) === JSON.stringify(b.steps)
  );
}
