import { compressUnits, LONGEST_LINE, lineLength, phraseCount } from '../compress-steps.ts';
import type { Step } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';
import { waysToShare } from './spread-out.ts';

export interface RoundToShape {
  /** Stitches of the round before; 0 to start in a ring. */
  readonly from: number;
  readonly to: number;
  readonly stitch: FabricStitch;
  /** Closed with a slip stitch and started with a turning chain; else a spiral. */
  readonly joined: boolean;
  /** Where the last round that was shaped has its increases or decreases, as shares of a turn. */
  readonly avoid: readonly number[];
  /** A spiral that may end the piece with this round is brought down level, which its line has to say as well. */
  readonly mayEnd: boolean;
}

export interface ShapedRound {
  readonly steps: readonly Step[];
  /** Where this round is shaped; as before where it is not. */
  readonly at: readonly number[];
}

/**
 * A round of one stitch that goes from one count to another, its shaping spread evenly and away from that of the last
 * shaped round: increases that stand on each other draw the corners of a polygon (published by several tutorials).
 */
export function shapedRound(round: RoundToShape): ShapedRound {
  const { from, to, joined, stitch, avoid } = round;
  if (from === 0) return { steps: ringRound(round), at: [] };
  const shapings = Math.abs(to - from);
  if (shapings === 0) {
    const counted = joined && STITCH_FACTS[stitch].chainCounts;
    const plain: Step = { do: 'stitch', stitch, into: 'stitch', times: counted ? from - 1 : from };
    return { steps: closed([plain], round), at: avoid };
  }
  return best(candidates(round, shapings), avoid, round.mayEnd && !joined ? END_CHARACTERS : 0);
}

function ringRound({ to, stitch, joined }: RoundToShape): Step[] {
  const { turningChain, chainCounts } = STITCH_FACTS[stitch];
  const counts = joined && chainCounts;
  return [
    { do: 'ring' },
    { do: 'turning-chain', chains: turningChain, countsAs: counts ? stitch : null },
    { do: 'stitch', stitch, into: 'ring', times: counts ? to - 1 : to },
    ...(joined ? [{ do: 'join' } as const] : []),
  ];
}

interface Candidate extends ShapedRound {
  /** 0 for the most even spacing, more for grouped ones. */
  readonly unevenness: number;
}

/** No more ways to space than these are tried: the rest reads no shorter. */
const MOST_WAYS = 4;
const MOST_SHIFTS = 8;
/** A lone one has a whole turn to choose from: in sixteenths it finds a place a fifth of a turn off the last two. */
const MOST_SHIFTS_OF_ONE = 16;

function candidates(round: RoundToShape, shapings: number): Candidate[] {
  const { from, to } = round;
  // A decrease takes two places and leaves one, so gaps are counted in the round that has more room per gap.
  const ways = waysToShare(Math.min(from, to), shapings);
  const tried = ways.length <= MOST_WAYS ? ways : [...ways.slice(0, MOST_WAYS - 1), ways[ways.length - 1]];
  return tried.flatMap((gaps, unevenness) =>
    shiftsFor(gaps, round).map((shift) => ({ ...spacedRound(round, gaps, shift), unevenness })),
  );
}

/** How far into the first gap the round may start. */
function shiftsFor(gaps: readonly number[], { joined, to, from }: RoundToShape): number[] {
  const least = Math.min(...gaps);
  const every = Math.max(1, Math.floor(least / (gaps.length === 1 ? MOST_SHIFTS_OF_ONE : MOST_SHIFTS)));
  const shifts = Array.from({ length: least }, (_, shift) => shift).filter((shift) => shift % every === 0);
  // The turning chain of a joined round stands for one plain stitch, so a round must not start with a decrease.
  const first = gaps[0];
  return joined && to < from ? shifts.filter((shift) => first - shift > 1) : shifts;
}

/** Each gap is worked plain but for its last stitch, which is the increase or decrease. */
function spacedRound(round: RoundToShape, gaps: readonly number[], shift: number): ShapedRound {
  const { from, to, stitch, joined } = round;
  const shaping: Step = to > from ? { do: 'increase', stitch, made: 2 } : { do: 'together', stitch, joined: 2 };
  const unit = (plain: number): Step[] => [
    ...(plain > 0 ? [{ do: 'stitch', stitch, into: 'stitch', times: plain } as const] : []),
    shaping,
  ];
  const counts = joined && STITCH_FACTS[stitch].chainCounts;
  const firstPlain = gaps[0] - shift - 1;
  const first: Step[] = !counts
    ? unit(firstPlain)
    : firstPlain > 0
      ? unit(firstPlain - 1)
      : [{ do: 'stitch', stitch, into: 'same', times: 1 }];
  const tail: Step[][] = shift > 0 ? [[{ do: 'stitch', stitch, into: 'stitch', times: shift }]] : [];
  const steps = compressUnits([first, ...gaps.slice(1).map((gap) => unit(gap - 1)), ...tail]);
  const total = gaps.reduce((sum, gap) => sum + gap, 0);
  let place = -shift;
  const at = gaps.map((gap) => {
    place += gap;
    return (place - 0.5) / total;
  });
  return { steps: closed(steps, round), at };
}

function closed(steps: readonly Step[], { joined, stitch }: RoundToShape): Step[] {
  if (!joined) return [...steps];
  const { turningChain, chainCounts } = STITCH_FACTS[stitch];
  return [
    { do: 'turning-chain', chains: turningChain, countsAs: chainCounts ? stitch : null },
    ...steps.filter((step) => step.do !== 'stitch' || step.times > 0),
    { do: 'join' },
  ];
}

/** What an uneven spacing, a phrase more, and increases right upon those before are worth against each other. */
const UNEVENNESS_PRICE = 1;
const PHRASE_PRICE = 0.4;
const STACKED_PRICE = 9;
const LONG_PRICE = 0.5;

/** "mit 1 Km in die nächste M schließen" and its comma. */
const END_CHARACTERS = 42;

function best(choices: readonly Candidate[], avoid: readonly number[], reserve: number): ShapedRound {
  const price = ({ steps, at, unevenness }: Candidate) => {
    const phrases = phraseCount(steps);
    return (
      unevenness * UNEVENNESS_PRICE +
      phrases * PHRASE_PRICE +
      Math.max(0, lineLength(steps) + reserve - LONGEST_LINE) * LONG_PRICE +
      stacked(at, avoid) * STACKED_PRICE
    );
  };
  const { steps, at } = choices.reduce((least, each) => (price(each) < price(least) ? each : least));
  return { steps, at };
}

/** 1 when a shaping stands on one of the round before, 0 when all keep half a gap away. */
export function stacked(at: readonly number[], before: readonly number[]): number {
  if (at.length === 0 || before.length === 0) return 0;
  const halfGap = 0.5 / Math.max(at.length, before.length);
  let nearest = halfGap;
  for (const place of at) for (const other of before) nearest = Math.min(nearest, turnBetween(place, other));
  return 1 - nearest / halfGap;
}

function turnBetween(a: number, b: number): number {
  const apart = Math.abs(a - b) % 1;
  return Math.min(apart, 1 - apart);
}
