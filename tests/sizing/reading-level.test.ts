import { expect, it } from 'vitest';
import { followRandomPlans } from '../support/followed-plans.ts';

// 10,000 of them: printed-plan.long.test.ts
it('printed words of any plan come out at their counts, no instruction is longer than 170 characters, hardly any has brackets in brackets', () => {
  const followed = followRandomPlans(200, 19);
  expect(followed.plans).toBeGreaterThan(150);
  expect(followed.longest, followed.longestText).toBeLessThanOrEqual(170);
  expect(followed.plansWithNestedBrackets / followed.plans).toBeLessThanOrEqual(0.02);
});
