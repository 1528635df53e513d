import type { Step } from './plan.ts';

/** A repeat of more units than this is harder to read than its parts. */
const LONGEST_REPEAT = 4;

/**
 * The same work, written as a maker would: neighbouring equal stitches counted together, what repeats put in a repeat
 * of whole units (an increase with the stitches before it, a cell of the mesh, a space of the band). A repeat never
 * stands inside another: nested brackets are hard to follow.
 */
export function compressUnits(units: readonly (readonly Step[])[]): Step[] {
  const keys = units.map((unit) => unit.map(keyOf).join());
  const result: Step[] = [];
  let index = 0;
  while (index < units.length) {
    const { length, times } = bestRepeat(keys, index);
    const repeated = units.slice(index, index + length).flat();
    if (times === 1) result.push(...repeated);
    else if (isPlainRun(repeated)) result.push({ ...repeated[0], times: repeated[0].times * times });
    else result.push({ do: 'repeat', times, steps: counted(repeated) });
    index += length * times;
  }
  return counted(result);
}

/** How many phrases a maker reads. */
export function phraseCount(steps: readonly Step[]): number {
  return steps.reduce((sum, step) => sum + (step.do === 'repeat' ? phraseCount(step.steps) : 1), 0);
}

/** A line longer than this is not followed without a finger on it (tests/sizing/reading-level.test.ts). */
export const LONGEST_LINE = 165;

/** About how many characters the steps take in the language that needs most. */
export function lineLength(steps: readonly Step[]): number {
  return steps.reduce((sum, step) => sum + stepLength(step), 0);
}

function stepLength(step: Step): number {
  switch (step.do) {
    case 'repeat':
      return 10 + lineLength(step.steps);
    case 'stitch':
      return step.into === 'space' ? 30 : 18;
    case 'turning-chain':
      return step.countsAs ? 24 : 58;
    case 'join':
      return 38;
    case 'level':
      return 42;
    case 'together':
      return 22;
    case 'skip':
      return step.place === 'space' ? 20 : 13;
    case 'increase':
      return 9;
    default:
      return 7;
  }
}

function isPlainRun(steps: readonly Step[]): steps is readonly [Extract<Step, { do: 'stitch' }>] {
  return steps.length === 1 && steps[0].do === 'stitch' && steps[0].into === 'stitch';
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
