import type { Round, Step } from './plan.ts';
import { type Stitch, stitchName, type Terms } from './stitches.ts';

export type Units = 'cm' | 'in';

/** The reader's terms and units. */
export interface PlanStyle {
  readonly terms: Terms;
  readonly units: Units;
}

const MM_PER_INCH = 25.4;
const METRES_PER_YARD = 0.9144;

/** A sentence of a plan with its `{sc}` and `{66.2 mm}` put into the reader's terms and units. */
export function inWords(sentence: string, style: PlanStyle): string {
  return sentence
    .replace(/\{(-?[\d.]+) mm\}/g, (_, mm: string) => lengthInWords(Number(mm), style.units))
    .replace(/\{(ch|sl st|sc|hdc|dc|tr)\}/g, (_, stitch: Stitch) => stitchName(stitch, style.terms));
}

/** "6.6 cm", or inches to the nearest sixteenth as on a tape: "2 5/8 in". */
export function lengthInWords(mm: number, units: Units): string {
  if (units === 'cm') return mm >= 995 ? `${Math.round(mm / 10)} cm` : `${(mm / 10).toFixed(1)} cm`;
  return `${inchFraction(mm / MM_PER_INCH, mm >= 995 ? 2 : 16)} in`;
}

/** "6.6 to 7.1 cm". */
export function rangeInWords([fromMm, toMm]: readonly [number, number], units: Units): string {
  const from = lengthInWords(fromMm, units);
  return `${from.slice(0, from.lastIndexOf(' '))} to ${lengthInWords(toMm, units)}`;
}

/** Metres, or yards beside inches. */
export function yarnLengthInWords(metres: number, units: Units): string {
  return units === 'cm' ? `${metres.toFixed(0)} m` : `${(metres / METRES_PER_YARD).toFixed(0)} yd`;
}

/** One round as a maker writes it, without its number. */
export function roundInWords(round: Round, style: PlanStyle): string {
  const steps = stepsInWords(round.steps, style, round).join(', ');
  return `${steps}${countInWords(round)}`;
}

/** " — 12 sts, 12 ch-sps" after a round. */
function countInWords({ stitches, spaces, closing }: Round): string {
  if (closing === 'cord') return '';
  return spaces === 0 ? ` — ${stitches} sts` : ` — ${stitches} sts, ${spaces} ch-sps`;
}

function stepsInWords(steps: readonly Step[], style: PlanStyle, round: Round): string[] {
  const phrases: string[] = [];
  for (let index = 0; index < steps.length; index++) {
    const step = steps[index];
    const next = steps[index + 1];
    if (step.do === 'stitch' && step.into === 'space' && step.times === 1 && sameStitchAgain(step, next)) {
      phrases.push(`${next.times + 1} ${stitchName(step.stitch, style.terms)} in next ch-sp`);
      index++;
    } else {
      phrases.push(stepInWords(step, style, round));
    }
  }
  return phrases;
}

function sameStitchAgain(
  step: Extract<Step, { do: 'stitch' }>,
  next: Step | undefined,
): next is Extract<Step, { do: 'stitch' }> {
  return next?.do === 'stitch' && next.into === 'same' && next.stitch === step.stitch;
}

function stepInWords(step: Step, style: PlanStyle, round: Round): string {
  const name = (stitch: Stitch) => stitchName(stitch, style.terms);
  switch (step.do) {
    case 'ring':
      return 'make an adjustable ring';
    case 'turning-chain':
      return step.countsAs
        ? `ch ${step.chains} (counts as ${name(step.countsAs)})`
        : `ch ${step.chains} (does not count)`;
    case 'stitch':
      return `${stitchesInWords(step, name(step.stitch), round)}`;
    case 'increase':
      return `${step.made} ${name(step.stitch)} in next st`;
    case 'together':
      return `${name(step.stitch)}${step.joined}tog`;
    case 'chain':
      return `ch ${step.chains}`;
    case 'skip':
      return skipInWords(step, style.terms);
    case 'join':
      return `${name('sl st')} in first st`;
    case 'level':
      return `${name('sl st')} in next st to level`;
    case 'cord':
      return `${step.stitches} cord sts`;
    case 'repeat':
      return repeatInWords(step, style, round);
  }
}

function stitchesInWords(step: Extract<Step, { do: 'stitch' }>, name: string, round: Round): string {
  switch (step.into) {
    case 'ring':
      return `${step.times} ${name} in the ring`;
    case 'same':
      return step.times === 1 ? `${name} in same place` : `${step.times} ${name} in same place`;
    case 'space':
      return step.times === 1 ? `${name} in next ch-sp` : `${name} in each of next ${step.times} ch-sps`;
    case 'stitch':
      if (step.times === 1) return `${name} in next st`;
      return step.times === round.stitches ? `${name} in each st around` : `${name} in next ${step.times} sts`;
  }
}

function skipInWords(step: Extract<Step, { do: 'skip' }>, terms: Terms): string {
  const skip = terms === 'us' ? 'skip' : 'miss';
  if (step.place === 'space') return step.count === 1 ? `${skip} ch-sp` : `${skip} ${step.count} ch-sps`;
  return step.count === 1 ? `${skip} 1 st` : `${skip} ${step.count} sts`;
}

function repeatInWords(step: Extract<Step, { do: 'repeat' }>, style: PlanStyle, round: Round): string {
  const [only] = step.steps;
  if (step.steps.length === 1 && only.do === 'increase') {
    return `${only.made} ${stitchName(only.stitch, style.terms)} in each of next ${step.times} sts`;
  }
  const inner = stepsInWords(step.steps, style, round).join(', ');
  const nested = step.steps.some((each) => each.do === 'repeat');
  return nested ? `[${inner}] ${step.times} times` : `(${inner}) ${step.times} times`;
}

/** "2 5/8": whole inches and a fraction with the given largest denominator, reduced. */
function inchFraction(inches: number, denominator: number): string {
  const parts = Math.round(Math.abs(inches) * denominator);
  const whole = Math.floor(parts / denominator);
  let numerator = parts % denominator;
  let below = denominator;
  while (numerator > 0 && numerator % 2 === 0) {
    numerator /= 2;
    below /= 2;
  }
  const sign = inches < 0 && parts > 0 ? '-' : '';
  if (numerator === 0) return `${sign}${whole}`;
  return whole === 0 ? `${sign}${numerator}/${below}` : `${sign}${whole} ${numerator}/${below}`;
}
