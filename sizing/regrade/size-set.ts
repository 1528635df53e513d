import type { Plan } from '../plan.ts';

/** One number of a pattern for each size; null where that size has no such round or part. */
export type SizeValues = readonly (number | null)[];

/** What the sizes of a set have in common, line by line, as a graded pattern writes it: S (M, L). */
export interface SizeSet {
  readonly plans: readonly Plan[];
  /** Names customary for so many sizes, smallest first. */
  readonly names: readonly string[];
  readonly base: readonly { readonly round: number; readonly adds: SizeValues; readonly stitches: SizeValues }[];
  readonly wallRounds: SizeValues;
  readonly mesh: {
    readonly cells: SizeValues;
    readonly chains: SizeValues;
    readonly rounds: SizeValues;
    /** Some size changes its cells higher up: its own pattern says where. */
    readonly changes: boolean;
  } | null;
  readonly band: { readonly stitches: SizeValues; readonly rounds: SizeValues } | null;
  readonly strapMm: SizeValues;
  readonly yarnMetres: SizeValues;
}

const NAMES: Readonly<Record<number, readonly string[]>> = {
  1: [''],
  2: ['S', 'L'],
  3: ['S', 'M', 'L'],
  4: ['S', 'M', 'L', 'XL'],
  5: ['XS', 'S', 'M', 'L', 'XL'],
  6: ['XS', 'S', 'M', 'L', 'XL', '2XL'],
};
export const MOST_SIZES = 6;

/** Sets plans of one design side by side, in the order given. */
export function sizeSetOf(plans: readonly Plan[]): SizeSet {
  const bases = plans.map((plan) => countsOf(plan, 'base'));
  const longest = Math.max(...bases.map((counts) => counts.length));
  return {
    plans,
    names: NAMES[plans.length] ?? plans.map((_, index) => String(index + 1)),
    base: Array.from({ length: longest }, (_, index) => ({
      round: index + 1,
      adds: bases.map((counts) => (index < counts.length ? counts[index] - (counts[index - 1] ?? 0) : null)),
      stitches: bases.map((counts) => counts[index] ?? null),
    })),
    wallRounds: plans.map((plan) => countsOf(plan, 'wall').length),
    mesh: plans.some(({ zones }) => zones.length > 0)
      ? {
          cells: plans.map(({ zones }) => zones[0]?.cells ?? null),
          chains: plans.map(({ zones }) => zones[0]?.chains ?? null),
          rounds: plans.map((plan) => countsOf(plan, 'mesh').length),
          changes: plans.some(({ zones }) => zones.length > 1),
        }
      : null,
    band: plans.some(({ band }) => band !== null)
      ? {
          stitches: plans.map(({ band }) => band?.stitches ?? null),
          rounds: plans.map((plan) => countsOf(plan, 'band').length),
        }
      : null,
    strapMm: plans.map(({ strap }) => strap?.lengthMm ?? null),
    yarnMetres: plans.map(({ yarn }) => yarn.metres.value),
  };
}

function countsOf(plan: Plan, part: string): number[] {
  return plan.parts.flatMap(({ rounds }) => rounds).flatMap((round) => (round.part === part ? [round.stitches] : []));
}
