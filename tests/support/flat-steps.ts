import type { Step } from '../../sizing/plan.ts';

/** The steps of a round with its repeats written out. */
export function flatSteps(steps: readonly Step[]): Step[] {
  return steps.flatMap((step) =>
    step.do === 'repeat' ? Array.from({ length: step.times }, () => flatSteps(step.steps)).flat() : [step],
  );
}
