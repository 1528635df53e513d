/**
 * Runs one job at a time. Inputs that arrive meanwhile replace each other, so only the latest is run next:
 * dragging never builds up a queue.
 */
export function latestWins<T>(run: (input: T) => Promise<void>): (input: T) => void {
  let busy = false;
  let waiting: { readonly input: T } | null = null;
  const next = async (): Promise<void> => {
    busy = true;
    while (waiting) {
      const { input } = waiting;
      waiting = null;
      await run(input);
    }
    busy = false;
  };
  return (input) => {
    waiting = { input };
    if (!busy) void next();
  };
}
