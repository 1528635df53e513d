import type { Step } from './plan.ts';

const LONGEST_REPEAT = 8;

/**
 * The same work, written as a maker would: neighbouring equal stitches counted together, what repeats put in a repeat.
 */
export function compressSteps(steps: readonly Step[]): Step[] {
  return compressUnits(counted(steps).map((step) => [step]));
}

/** As compressSteps, but repeats start and end with whole units: the cells of a mesh, the spaces of a band. */
export function compressUnits(units: readonly (readonly Step[])[]): Step[] {
  const keys = units.map((unit) => unit.map(keyOf).join());
  const result: Step[] = [];
  let index = 0;
  while (index < units.length) {
    const { length, times } = bestRepeat(keys, index);
    const repeated = units.slice(index, index + length);
    if (times === 1) result.push(...repeated.flat());
    else result.push({ do: 'repeat', times, steps: length > 2 ? compressUnits(repeated) : repeated.flat() });
    index += length * times;
  }
  return counted(result);
}

function counted(steps: readonly Step[]): Step[] {
  const result: Step[] = [];
  for (let index = 0; index < steps.length; ) {
    const step = steps[index];
    let end = index + 1;
    if (step.do !== 'stitch') {
      result.push(step);
    } else {
      let times = step.times;
      for (; end < steps.length && isMoreOf(step, steps[end]); end++) times += (steps[end] as typeof step).times;
      result.push({ ...step, times });
    }
    index = end;
  }
  return result;
}

function isMoreOf(step: Extract<Step, { do: 'stitch' }>, next: Step): boolean {
  return next.do === 'stitch' && next.stitch === step.stitch && next.into === step.into;
}

/** Equal keys mean equal steps; the steps compressed here are single ones. */
function keyOf(step: Step): string {
  switch (step.do) {
    case 'stitch':
      return `${step.stitch} ${step.into} ${step.times}`;
    case 'increase':
      return `${step.stitch} + ${step.made}`;
    case 'together':
      return `${step.stitch} - ${step.joined}`;
    case 'chain':
      return `ch ${step.chains}`;
    case 'skip':
      return `skip ${step.place} ${step.count}`;
    default:
      return JSON.stringify(step);
  }
}

/** The repeat starting at `start` that saves the most; a single unit if none does. */
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
