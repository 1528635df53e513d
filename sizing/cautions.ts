import type { Caution } from './notes.ts';
import type { Plan } from './plan.ts';

/** Before use, this many times the full mass is hung from it: common practice, no source. */
const TEST_TIMES = 3;

/** Calm, complete and the same on paper and screen. What the rules cover is said with what they do not. */
export function cautionsFor({ strap, drawstring, load }: Pick<Plan, 'strap' | 'drawstring' | 'load'>): Caution[] {
  const cautions: Caution[] = [{ code: 'caution-hot' }, { code: 'caution-glass' }, { code: 'caution-flames' }];
  const cords: Caution[] = [{ code: 'caution-children' }, { code: 'caution-rules' }];
  if (!strap) return drawstring ? [...cords, ...cautions] : cautions;
  // Rounded up to 100 g, as weights for a test are put together from what is at hand.
  const testMassG = Math.ceil((TEST_TIMES * load.fullMassG.value) / 100) * 100;
  return [...cords, { code: 'caution-test', testMassG }, ...cautions];
}
