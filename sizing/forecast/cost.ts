import type { Choices } from '../choices.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import type { CostPlan, YarnNeed } from '../plan.ts';

/**
 * Material (the yarn that goes in, not the balls to buy) plus labour: hours x rate + materials (published by makers).
 * The other way round a price, less fees and yarn, is shared out over the hours. Null when nothing of all this is given.
 */
export function costOf(choices: Choices, gauge: Gauge, yarn: YarnNeed, minutes: Estimate): CostPlan | null {
  const { pricePerBall } = gauge.yarn;
  const { hourlyRate, price, currency } = choices;
  if (pricePerBall === null && hourlyRate === null && price === null) return null;
  const material = pricePerBall === null ? null : (pricePerBall * yarn.grams.value) / gauge.yarn.ballGrams;
  const perMinute = hourlyRate === null ? null : hourlyRate / 60;
  const labour = perMinute === null ? null : { value: minutes.value * perMinute, sd: minutes.sd * perMinute };
  const total = material === null || labour === null ? null : { value: material + labour.value, sd: labour.sd };
  return { material, labour, total, hourAtPrice: hourAt(choices, material ?? 0, minutes), price, currency };
}

/** Time is what is not known: an hour is worth less by the share that it takes longer. */
function hourAt({ price, feeShare }: Choices, material: number, minutes: Estimate): Estimate | null {
  if (price === null || minutes.value <= 0) return null;
  const value = (60 * (price * (1 - feeShare) - material)) / minutes.value;
  return { value, sd: (Math.abs(value) * minutes.sd) / minutes.value };
}
