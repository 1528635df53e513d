import { expect, it } from 'vitest';
import { planRandomly } from '../support/random-plans.ts';

it('a plan for any container, gauge and choices can be worked stitch by stitch, is finite throughout, or is refused only where the yarn is too coarse (10,000 plans)', () => {
  expect(planRandomly(10_000)).toBeGreaterThan(9_000);
});
