import type { Step } from './plan.ts';

const LONGEST_REPEAT = 8;

/**
 * The same work, written as a maker would: neighbouring equal stitches counted together, what repeats put in a repeat.
 */
export function compressSteps(steps: readonly Step[]): Step[] {
  return withRepeats(counted(steps));
}

function counted(steps: readonly Step[]): Step[] {
  const result: Step[] = [];
  for (const step of steps) {
    const last = result[result.length - 1];
    if (step.do === 'stitch' && last?.do === 'stitch' && last.stitch === step.stitch && last.into === step.into) {
      result[result.length - 1] = { ...last, times: last.times + step.times };
    } else {
      result.push(step);
    }
  }
  return result;
}

function withRepeats(steps: readonly Step[]): Step[] {
  const keys = steps.map((step) => JSON.stringify(step));
  const result: Step[] = [];
  let index = 0;
  while (index < steps.length) {
    const { length, times } = bestRepeat(keys, index);
    if (times > 1) result.push({ do: 'repeat', times, steps: steps.slice(index, index + length) });
    else result.push(...steps.slice(index, index + length));
    index += length * times;
  }
  return result;
}

/** The repeat starting at `start` that saves the most steps; a single step if none does. */
function bestRepeat(keys: readonly string[], start: number): { length: number; times: number } {
  let best = { length: 1, times: 1 };
  for (let length = 1; length <= LONGEST_REPEAT && start + 2 * length <= keys.length; length++) {
    let times = 1;
    while (repeatsAt(keys, start, length, times)) times++;
    if (length * (times - 1) > best.length * (best.times - 1)) best = { length, times };
  }
  return best;
}

function repeatsAt(keys: readonly string[], start: number, length: number, times: number): boolean {
  const from = start + length * times;
  if (from + length > keys.length) return false;
  for (let offset = 0; offset < length; offset++) if (keys[from + offset] !== keys[start + offset]) return false;
  return true;
}
