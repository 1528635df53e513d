/**
 * The sizing engine's door. Everything here is pure and works in Node and in the browser.
 *
 * - `containerFromTape({ diameterMm, heightMm })` (container.ts) or a measured Container;
 * - `defaultGauge()`, `gaugeFromYarnCategory(3)`, `gaugeFromSwatch({...})` (gauge.ts);
 * - own samples of swatch, chain and cord (samples.ts) sharpen the gauge;
 * - `defaultChoices('net' | 'sleeve' | 'mat')` (choices.ts), spread and changed as wanted;
 * - `planCarrier(container, gauge, choices)` -> `{ outcome: 'planned', plan }` or `{ outcome: 'refused', reason }`, where
 *   the reason names the field, its value and what is allowed;
 * - `replan(plan, { afterRound, measuredWidthMm, sdMm })`, `replanFromDisc(plan, {...})` (replan.ts);
 * - `renderPlanText(plan, { terms, units })` (render-text.ts), `renderPlanMarkdown` (render-markdown.ts),
 *   `sideViewSvg(plan, style)` (side-view.ts), `baseChartSvg(plan, style)` (base-chart.ts);
 * - sentences inside a plan carry `{sc}` and `{66.2 mm}`: pass them through `inWords(text, style)` (words.ts);
 *   `roundInWords(round, style)` says one round.
 */
import { buildPlan, NOTHING_WORKED } from './build-plan.ts';
import { type Choices, defaultChoices } from './choices.ts';
import type { Container } from './container.ts';
import type { Gauge } from './gauge.ts';
import type { PlanResult } from './plan.ts';
import { RefusedInput } from './refusal.ts';

/** The whole carrier for a container in a maker's gauge, or why there is none. Never throws for bad values. */
export function planCarrier(container: Container, gauge: Gauge, choices: Choices = defaultChoices()): PlanResult {
  return refusalsAsResult(() => buildPlan(container, gauge, choices, NOTHING_WORKED));
}

function refusalsAsResult(build: () => Extract<PlanResult, { outcome: 'planned' }>['plan']): PlanResult {
  try {
    return { outcome: 'planned', plan: build() };
  } catch (error) {
    if (error instanceof RefusedInput) return { outcome: 'refused', reason: error.refusal };
    throw error;
  }
}
