import type { Plan, Step } from '../../sizing/plan.ts';
import type { Stitch } from '../../sizing/stitches.ts';

/** The stitches a plan needs. */
export function stitchesUsed(plan: Plan): ReadonlySet<Stitch> {
  return new Set(plan.parts.flatMap(({ rounds }) => rounds.flatMap(({ steps }) => stitchesIn(steps))));
}

function stitchesIn(steps: readonly Step[]): Stitch[] {
  return steps.flatMap((step) => (step.do === 'repeat' ? stitchesIn(step.steps) : stitchesOf(step)));
}

function stitchesOf(step: Exclude<Step, { do: 'repeat' }>): Stitch[] {
  switch (step.do) {
    case 'stitch':
    case 'increase':
    case 'together':
      return [step.stitch];
    case 'turning-chain':
    case 'chain':
      return ['ch'];
    case 'join':
    case 'level':
      return ['sl st'];
    case 'cord':
      return ['ch', 'sc'];
    case 'tab':
      return ['ch', 'sc', 'sl st'];
    case 'ring':
    case 'skip':
      return [];
  }
}
