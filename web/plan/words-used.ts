import type { CheckAdvice } from '../../sizing/notes.ts';
import type { Plan, Step } from '../../sizing/plan.ts';
import type { FabricStitch, Stitch } from '../../sizing/stitches.ts';

type SingleStep = Exclude<Step, { do: 'repeat' }>;

/** The stitches a plan needs, those included that a check may turn its base into. */
export function stitchesUsed(plan: Plan): ReadonlySet<Stitch> {
  const advised = plan.checkpoints.flatMap(({ ifLess, ifMore }) => [ifLess, ifMore].flatMap(stitchAdvised));
  return new Set([...singleSteps(plan).flatMap(stitchesOf), ...advised]);
}

/** What a plan does beside working stitches: the words for it want explaining. */
export function doesInPlan(plan: Plan, test: (step: SingleStep) => boolean): boolean {
  return singleSteps(plan).some(test);
}

function singleSteps(plan: Plan): SingleStep[] {
  const single = (step: Step): SingleStep[] => (step.do === 'repeat' ? step.steps.flatMap(single) : [step]);
  return plan.parts.flatMap(({ rounds }) => rounds.flatMap(({ steps }) => steps.flatMap(single)));
}

function stitchAdvised(advice: CheckAdvice): FabricStitch[] {
  return advice.code === 'base-becomes' ? [advice.lastStitch] : [];
}

function stitchesOf(step: SingleStep): Stitch[] {
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
    case 'strip':
      return ['ch', 'sc'];
    case 'tab':
      return ['ch', 'sc', 'sl st'];
    case 'ring':
    case 'skip':
      return [];
  }
}
