import type { Choices } from '../choices.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import { type ColourNeed, isOwnPiece, type Part, type Round, type YarnColour } from '../plan.ts';
import { tallyRounds } from './tally.ts';
import { yarnMetres, yarnNeed } from './yarn-need.ts';

const COLOURS = ['A', 'B', 'C', 'D'] as const satisfies readonly YarnColour[];

/** Base, band and what is sewn on are in A; between them wall and net go through the colours, stripe by stripe. */
export function inColours(rounds: readonly Round[], { stripes }: Choices, baseRounds: number): Round[] {
  if (stripes.colours === 1) return [...rounds];
  return rounds.map((round): Round => {
    const stripe = Math.floor((round.number - baseRounds - 1) / stripes.rounds) + 1;
    const isStriped = round.part === 'wall' || round.part === 'mesh';
    const colour = COLOURS[isStriped ? stripe % stripes.colours : 0];
    // Paper says it where a colour might change.
    if (round.part === 'base' || isOwnPiece(round.part)) return { ...round, colour };
    return { ...round, colour, notes: [...round.notes, { code: 'in-colour', colour }] };
  });
}

/** Metres of a part; each stripe begins and ends with a tail of its own. */
export function partMetres(rounds: readonly Round[], gauge: Gauge, tailsMm?: number): Estimate {
  return sum(runsOf(rounds).map((run) => yarnMetres(tallyRounds(run), gauge, tailsMm)));
}

/** What to buy of each colour; nothing where there is one. */
export function needByColour(parts: readonly Part[], { stripes }: Choices, gauge: Gauge): ColourNeed[] {
  return COLOURS.slice(0, stripes.colours === 1 ? 0 : stripes.colours).flatMap((colour) => {
    const metres = parts.flatMap((part) => metresIn(colour, part, gauge));
    if (metres.length === 0) return [];
    const { metres: all, grams, balls } = yarnNeed(metres, gauge);
    return [{ colour, metres: all, grams, balls }];
  });
}

function metresIn(colour: YarnColour, { rounds, yarnMetres: all }: Part, gauge: Gauge): Estimate[] {
  const runs = runsOf(rounds);
  if (runs.length === 1) return rounds[0].colour === colour ? [all] : [];
  return runs.filter(([first]) => first.colour === colour).map((run) => yarnMetres(tallyRounds(run), gauge));
}

/** Neighbouring rounds of one colour. */
function runsOf(rounds: readonly Round[]): Round[][] {
  const runs: Round[][] = [];
  for (const round of rounds) {
    const run = runs.at(-1);
    if (run && run[0].colour === round.colour) run.push(round);
    else runs.push([round]);
  }
  return runs;
}

/** One hand works all of it, so its errors are common. */
function sum(parts: readonly Estimate[]): Estimate {
  return {
    value: parts.reduce((total, { value }) => total + value, 0),
    sd: parts.reduce((total, { sd }) => total + sd, 0),
  };
}
