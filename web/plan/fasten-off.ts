import type { Part, Plan } from '../../sizing/plan.ts';

/** The tail that is woven in: 15 cm, common practice, no source. */
export const TAIL_MM = 150;

/** The yarn is cut after the last part that is worked on; the cord is a piece of its own. */
export function isFastenedOffAfter(part: Part, plan: Plan): boolean {
  return plan.parts.filter((each) => each.name !== 'strap').at(-1) === part;
}
