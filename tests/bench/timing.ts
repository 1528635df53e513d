/** How long one thing took over several runs, beside what it should take. */
export interface Timing {
  readonly stage: string;
  readonly runs: number;
  readonly medianMs: number;
  readonly minMs: number;
  readonly maxMs: number;
  readonly targetMs: number | null;
}

export function timingOf(stage: string, tookMs: readonly number[], targetMs: number | null): Timing {
  const sorted = [...tookMs].sort((a, b) => a - b);
  return {
    stage,
    runs: sorted.length,
    medianMs: sorted[sorted.length >> 1],
    minMs: sorted[0],
    maxMs: sorted[sorted.length - 1],
    targetMs,
  };
}
