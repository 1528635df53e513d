import fc from 'fast-check';
import { expect } from 'vitest';
import { isOwnPiece } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { HANDS, TERM_SETS } from '../../web/app/settings.ts';
import { printedLines } from './printed-lines.ts';
import { followPrintedPlan } from './printed-plan-reader.ts';
import { choices, containers, gauges } from './sizing-arbitraries.ts';

export interface Followed {
  readonly plans: number;
  readonly rounds: number;
  /** Characters of the longest instruction, without its label and count. */
  readonly longest: number;
  readonly longestText: string;
  readonly plansWithNestedBrackets: number;
}

/**
 * Prints random plans in every language and for either hand in turn, follows their words, and compares what is on the
 * hook after each round with what the line says and with what the plan planned.
 */
export function followRandomPlans(numRuns: number, seed: number): Followed {
  let [plans, rounds, nested] = [0, 0, 0];
  let longestText = '';
  fc.assert(
    fc.property(containers, gauges, choices, (container, gauge, chosen) => {
      const result = planCarrier(container, gauge, chosen);
      if (result.outcome === 'refused') return;
      const terms = TERM_SETS[plans % TERM_SETS.length];
      const hand = HANDS[Math.floor(plans / TERM_SETS.length) % HANDS.length];
      plans++;
      const lines = printedLines(result.plan, terms, hand);
      const read = followPrintedPlan(lines, terms === 'de' ? 'german' : 'english');
      const planned = result.plan.parts.flatMap((part) => part.rounds).filter(({ part }) => !isOwnPiece(part));
      expect(read.map(({ stitches }) => stitches)).toEqual(planned.map(({ stitches }) => stitches));
      for (const round of read) {
        if (round.stitches !== round.statedStitches || round.spaces !== round.statedSpaces) expect.fail(round.label);
      }
      rounds += read.length;
      const works = lines.filter((line) => /^(Rnd|\d)/.test(line)).map(workOf);
      for (const work of works) if (work.length > longestText.length) longestText = work;
      if (works.some((work) => /\([^()]*\((?!counts|does not|zähl)/.test(work))) nested++;
    }),
    { numRuns, seed, endOnFailure: true },
  );
  return { plans, rounds, longest: longestText.length, longestText, plansWithNestedBrackets: nested };
}

/** The instruction alone: no label, no count, no notes. */
function workOf(line: string): string {
  return line.replace(/^[^:]+: /, '').replace(/ \(\d+ [^()]*\)\..*$/, '');
}
