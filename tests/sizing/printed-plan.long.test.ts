import { expect, it } from 'vitest';
import { followRandomPlans } from '../support/followed-plans.ts';

it('printed words of 10,000 plans in every language and for either hand come out at their counts and stay readable', () => {
  const followed = followRandomPlans(10_000, 20_261_130);
  expect(followed.plans).toBeGreaterThan(8_000);
  expect(followed.longest, followed.longestText).toBeLessThanOrEqual(170);
  expect(followed.plansWithNestedBrackets / followed.plans).toBeLessThanOrEqual(0.02);
});
