import type { Choices } from '../choices.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import type { CostPlan, YarnNeed } from '../plan.ts';

/**
 * Material (the yarn that goes in, not the balls to buy) plus labour: hours x rate + materials (published by makers).
 * Null when neither price nor rate is given.
 */
export function costOf(choices: Choices, gauge: Gauge, yarn: YarnNeed, minutes: Estimate): CostPlan | null {
  const { pricePerBall } = gauge.yarn;
  if (pricePerBall === null && choices.hourlyRate === null) return null;
  const material = pricePerBall === null ? null : (pricePerBall * yarn.grams.value) / gauge.yarn.ballGrams;
  const perMinute = choices.hourlyRate === null ? null : choices.hourlyRate / 60;
  const labour = perMinute === null ? null : { value: minutes.value * perMinute, sd: minutes.sd * perMinute };
  const total = material === null || labour === null ? null : { value: material + labour.value, sd: labour.sd };
  return { material, labour, total, currency: choices.currency };
}
