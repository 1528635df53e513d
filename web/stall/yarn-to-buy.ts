import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import type { Estimate } from '../../sizing/estimate.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import type { DaySheet } from './day-sheet.ts';

/** What pieces of one colour take together. */
export interface YarnToBuy {
  readonly colour: string;
  readonly pieces: number;
  readonly grams: Estimate;
  /** Enough nineteen times in twenty. */
  readonly balls: number;
}

/** One-sided 95 % of a normal distribution. */
const ENOUGH_SDS = 1.645;

/**
 * Yarn to make again what was sold, and what was asked for and not there, by colour: most first.
 * @param usualColour  of what nobody chose a colour for, `#rrggbb`
 */
export function yarnToBuy(
  { sold, missing }: Pick<DaySheet, 'sold' | 'missing'>,
  gauge: Gauge,
  choices: Choices,
  usualColour: string,
): YarnToBuy[] {
  const wanted = [
    ...sold.map(({ carrier: { kind, madeFor, colour } }) => ({
      container: containerFromTape({ diameterMm: madeFor.widestMm, heightMm: madeFor.heightMm }),
      choices: choices.carrier === kind ? choices : defaultChoices(kind),
      colour: colour ?? usualColour,
    })),
    ...missing.map(({ container }) => ({ container, choices, colour: usualColour })),
  ];
  const byColour = new Map<string, { pieces: number; value: number; sd: number }>();
  for (const { container, choices: chosen, colour } of wanted) {
    const grams = gramsFor(container, gauge, chosen);
    if (!grams) continue;
    const before = byColour.get(colour) ?? { pieces: 0, value: 0, sd: 0 };
    // One hand makes them all: what it takes more for one piece it takes more for every piece.
    byColour.set(colour, {
      pieces: before.pieces + 1,
      value: before.value + grams.value,
      sd: before.sd + grams.sd,
    });
  }
  return [...byColour]
    .map(([colour, { pieces, value, sd }]) => ({
      colour,
      pieces,
      grams: { value, sd },
      balls: Math.ceil((value + ENOUGH_SDS * sd) / gauge.yarn.ballGrams),
    }))
    .sort((a, b) => b.grams.value - a.grams.value);
}

function gramsFor(container: Container, gauge: Gauge, choices: Choices): Estimate | null {
  const result = planCarrier(container, gauge, choices);
  return result.outcome === 'planned' ? result.plan.yarn.grams : null;
}
