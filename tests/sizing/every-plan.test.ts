import { expect, it } from 'vitest';
import { planRandomly } from '../support/random-plans.ts';

// 10,000 of them: every-plan.long.test.ts
it('a plan for any container, gauge and choices can be worked stitch by stitch, is finite throughout, or is refused only where the yarn is too coarse', () => {
  expect(planRandomly(200)).toBeGreaterThan(180);
});
